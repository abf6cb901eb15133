#pragma once
/// One design wall to a folder: a lock that the system gives back when the program ends, however it ends.

#include <filesystem>
#include <string>

namespace motley::web {

class FolderLock {
public:
    /// Takes the folder. Fault (Cause::system) with the address of the wall that has it already.
    explicit FolderLock(const std::filesystem::path& folder);
    ~FolderLock();
    FolderLock(const FolderLock&) = delete;
    FolderLock& operator=(const FolderLock&) = delete;

    /// What a second wall on this folder is told. Only the owner of the folder can read it: the address holds
    /// the key.
    void tell(const std::string& address);

private:
    int file_ = -1;
};

} // namespace motley::web
