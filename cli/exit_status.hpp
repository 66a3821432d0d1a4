/// @file
/// What the process tells its caller. Numbers from 64 up are those of sysexits.h (BSD).
#pragma once

#include "engine/foundation/error.hpp"

namespace tickover::cli {

enum ExitStatus {
  kDone = 0,
  kAnswerIsNo = 1,  ///< vet found errors, the complaint is not cured
  kUsage = 2,
  kBadData = 65,
  kNoInput = 66,
  kSoftware = 70,  ///< a fault of the program itself
  kCannotCreate = 73,
  kDiskError = 74,
  kInUse = 75,
};

inline int exit_status(InputFault fault) {
  switch (fault) {
    case InputFault::usage:
      return kUsage;
    case InputFault::data:
      return kBadData;
    case InputFault::missing:
      return kNoInput;
    case InputFault::exists:
      return kCannotCreate;
    case InputFault::disk:
      return kDiskError;
    case InputFault::locked:
      return kInUse;
  }
  return kSoftware;
}

}  // namespace tickover::cli
