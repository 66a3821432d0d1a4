#include <dirent.h>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cstdlib>
#include <cstring>
#include <ctime>

#include "engine/foundation/error.hpp"
#include "engine/store/store.hpp"

namespace tickover {
namespace {

std::string system_reason() { return std::strerror(errno); }

[[noreturn]] void fail(InputFault fault, const std::string& path, const std::string& what) {
  throw InputError(fault, path, what, {});
}

/// An open file that is closed again.
class File {
 public:
  File(const std::string& path, int flags)
      : handle_(::open(path.c_str(), flags | O_CLOEXEC, 0666)) {}
  File(const File&) = delete;
  File& operator=(const File&) = delete;
  ~File() {
    if (handle_ >= 0) ::close(handle_);
  }
  bool is_open() const { return handle_ >= 0; }
  int handle() const { return handle_; }
  std::size_t size() const {
    struct stat status {};
    return ::fstat(handle_, &status) == 0 ? static_cast<std::size_t>(status.st_size) : 0;
  }
  bool regular() const {
    struct stat status {};
    return ::fstat(handle_, &status) == 0 && S_ISREG(status.st_mode);
  }
  bool write_all(std::string_view text) const {
    while (!text.empty()) {
      const ssize_t written = ::write(handle_, text.data(), text.size());
      if (written < 0 && errno == EINTR) continue;
      if (written <= 0) return false;
      text.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
  }
  bool sync() const { return ::fsync(handle_) == 0; }
  bool cut_to(std::size_t size) const {
    return ::ftruncate(handle_, static_cast<off_t>(size)) == 0;
  }

 private:
  int handle_;
};

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  if (slash == std::string::npos) return ".";
  return slash == 0 ? "/" : path.substr(0, slash);
}

/// A new file survives a power cut only once its folder is synced too.
void sync_folder(const std::string& path) { File(folder_of(path), O_RDONLY | O_DIRECTORY).sync(); }

/// Seconds since 1970 as SOURCE_DATE_EPOCH gives them; none after the year 9999, for which a job
/// has no digits.
std::time_t parse_time(std::string_view text) {
  constexpr std::time_t kLast = 253402300799;
  std::time_t seconds = -1;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), seconds);
  if (error == std::errc() && end == text.data() + text.size() && seconds >= 0 && seconds <= kLast)
    return seconds;
  fail(InputFault::usage, "",
       "SOURCE_DATE_EPOCH should be a number of seconds: '" + printable(text.substr(0, 40)) + "'");
}

class DiskStore : public Store {
 public:
  std::string read(const std::string& path, std::size_t limit) const override {
    const File file(path, O_RDONLY | O_NONBLOCK);
    if (!file.is_open()) fail(InputFault::missing, path, "cannot be read: " + system_reason());
    if (!file.regular()) fail(InputFault::missing, path, "cannot be read: it is not a file");
    if (file.size() > limit) {
      fail(InputFault::data, path,
           "the file has " + std::to_string(file.size()) + " bytes; at most " +
               std::to_string(limit) + " are read");
    }
    std::string text(file.size(), '\0');
    std::size_t got = 0;
    while (got < text.size()) {
      const ssize_t count = ::read(file.handle(), text.data() + got, text.size() - got);
      if (count < 0 && errno == EINTR) continue;
      if (count < 0) fail(InputFault::disk, path, "reading failed: " + system_reason());
      if (count == 0) break;
      got += static_cast<std::size_t>(count);
    }
    text.resize(got);
    return text;
  }

  bool exists(const std::string& path) const override {
    struct stat status {};
    return ::stat(path.c_str(), &status) == 0;
  }

  std::vector<std::string> names(const std::string& folder,
                                 const std::string& suffix) const override {
    std::vector<std::string> found;
    DIR* directory = ::opendir(folder.c_str());
    if (directory == nullptr) {
      fail(InputFault::missing, folder, "the folder cannot be read: " + system_reason());
    }
    while (const dirent* entry = ::readdir(directory)) {
      const std::string name = entry->d_name;
      if (name.size() > suffix.size() && name.ends_with(suffix) && regular(folder + "/" + name)) {
        found.push_back(name);
      }
    }
    ::closedir(directory);
    std::sort(found.begin(), found.end());
    return found;
  }

  void create(const std::string& path, const std::string& text) override {
    const File file(path, O_WRONLY | O_CREAT | O_EXCL);
    if (!file.is_open()) {
      fail(InputFault::exists, path,
           errno == EEXIST ? "exists already, and is left as it is"
                           : "cannot be created: " + system_reason());
    }
    if (file.write_all(text) && file.sync()) return sync_folder(path);
    const std::string reason = system_reason();
    ::unlink(path.c_str());
    fail(InputFault::disk, path, "writing failed, nothing was created: " + reason);
  }

  void append(const std::string& path, std::size_t expected_size, std::size_t torn,
              const std::string& text) override {
    const File file(path, O_RDWR | O_APPEND);
    if (!file.is_open()) fail(InputFault::disk, path, "cannot be written: " + system_reason());
    if (file.size() != expected_size) {
      fail(InputFault::locked, path, "another process has written to it just now; try again");
    }
    const std::string kept_back = tail(file, torn);
    if (file.cut_to(expected_size - torn) && file.write_all(text) && file.sync()) return;
    const std::string reason = system_reason();
    const bool restored = file.cut_to(expected_size - torn) && file.write_all(kept_back);
    fail(InputFault::disk, path,
         std::string("writing failed, ") +
             (restored ? "the file is as it was" : "the file may end in a torn line") + ": " +
             reason);
  }

  std::shared_ptr<void> lock(const std::string& path) override {
    auto file = std::make_shared<File>(path, O_RDONLY | O_NONBLOCK);
    if (!file->is_open()) fail(InputFault::missing, path, "cannot be read: " + system_reason());
    if (::flock(file->handle(), LOCK_EX | LOCK_NB) != 0) {
      fail(InputFault::locked, path,
           "another process is using this job; try again when it is done");
    }
    return file;  // the lock goes with the handle
  }

  std::string now() const override {
    std::time_t seconds = std::time(nullptr);
    if (const char* fixed = std::getenv("SOURCE_DATE_EPOCH")) seconds = parse_time(fixed);
    std::tm utc{};
    gmtime_r(&seconds, &utc);
    char text[32];
    std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &utc);
    return text;
  }

 private:
  static bool regular(const std::string& path) {
    struct stat status {};
    return ::stat(path.c_str(), &status) == 0 && S_ISREG(status.st_mode);
  }
  static std::string tail(const File& file, std::size_t bytes) {
    std::string text(bytes, '\0');
    const ssize_t got =
        ::pread(file.handle(), text.data(), bytes, static_cast<off_t>(file.size() - bytes));
    text.resize(got > 0 ? static_cast<std::size_t>(got) : 0);
    return text;
  }
};

}  // namespace

std::unique_ptr<Store> disk_store() { return std::make_unique<DiskStore>(); }

}  // namespace tickover
