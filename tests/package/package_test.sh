#!/usr/bin/env bash
# Builds the Debian package from the build folder BUILD, looks at what is in it, unpacks it and runs
# the program from there. Usage: package_test.sh BUILD
set -euo pipefail
build=$1
for tool in cpack dpkg-deb dpkg-shlibdeps; do
  command -v $tool >/dev/null || { echo "skipped: there is no $tool"; exit 77; }
done
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cpack --config "$build/CPackConfig.cmake" -G DEB -B "$folder" >"$folder/log" 2>&1 ||
  { cat "$folder/log"; exit 1; }
package=$(echo "$folder"/*.deb)
[ -f "$package" ] || { echo "failed: not one package: $package"; exit 1; }

fail() { echo "failed: $*"; exit 1; }

field() { dpkg-deb -f "$package" "$1"; }
[ "$(field Package)" = tickover ] || fail "named $(field Package)"
field Depends | grep -q libedit2 || fail "does not depend on what it is linked with: $(field Depends)"

dpkg-deb -x "$package" "$folder/root"
for file in bin/tickover share/man/man1/tickover.1 share/bash-completion/completions/tickover \
  share/zsh/vendor-completions/_tickover share/fish/vendor_completions.d/tickover.fish \
  share/doc/tickover/copyright share/tickover/carburettor/pack.json \
  share/tickover/machines/four-inline.json share/tickover/schema/answers.schema.json \
  share/tickover/sheet/de.json; do
  [ -s "$folder/root/usr/$file" ] || fail "usr/$file is not in it"
done
[ ! -e "$folder/root/usr/include" ] || fail "headers are in it"
[ -z "$(find "$folder/root" -type f -perm /022)" ] || fail "files that others may write to"

# from where it was unpacked, with its own knowledge, in an environment that names nothing
cd "$folder"
run() { env -i PATH=/usr/bin:/bin root/usr/bin/tickover "$@"; }
run --version >version.txt
grep -q '^pack carburettor .* hash [0-9a-f]\{64\}$' version.txt || fail "the version: $(run --version)"
run open packed.job --machine single --complaint "hunts at idle" >/dev/null
run record packed.job idle-hunts clear >/dev/null
run next packed.job >next.txt  # whole: grep -q would close a pipe under it
grep -q '^Next ' next.txt || fail "no advice: $(head -n 3 next.txt)"
run sheet packed.job --html packed.html >/dev/null
grep -q '<h1>Job sheet</h1>' packed.html || fail "no sheet"
echo "$(basename "$package") is in order"
