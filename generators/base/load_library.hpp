#pragma once

/// Libraries of ours that are opened when they are first needed, since they bring large ones along.
namespace fitup {

/// The address of a function of `library` ("libfitup-kernel.so"), which lies beside this library (in a build)
/// or in the folder `fitup` beside it (installed); a name with a folder is taken as it is. It is never
/// closed: what it brings keeps threads and static data that don't survive that.
/// @param what  for the message: "the modelling kernel"
/// @throws KernelError when it can't be loaded
void* entry_of(const char* library, const char* function, const char* what);

}  // namespace fitup
