#include "tests/shop/faulty_disk.h"

#include <sqlite3.h>

#include <cstring>

namespace spile::shop {
namespace {

long room = -1, asked = 0;

bool full() {
    ++asked;
    return room >= 0 && asked > room;
}

// SQLite hands out one block of memory for a file: ours first, then the real one behind it (sqlite.org, "The OS Interface").
struct File {
    sqlite3_file base;
    sqlite3_file* real;
};

sqlite3_file* real(sqlite3_file* f) {
    return reinterpret_cast<File*>(f)->real;
}

int close(sqlite3_file* f) {
    return real(f)->pMethods ? real(f)->pMethods->xClose(real(f)) : SQLITE_OK;
}
int read(sqlite3_file* f, void* to, int n, sqlite3_int64 at) {
    return real(f)->pMethods->xRead(real(f), to, n, at);
}
int write(sqlite3_file* f, const void* from, int n, sqlite3_int64 at) {
    return full() ? SQLITE_FULL : real(f)->pMethods->xWrite(real(f), from, n, at);
}
int truncate(sqlite3_file* f, sqlite3_int64 size) {
    return real(f)->pMethods->xTruncate(real(f), size);
}
int sync(sqlite3_file* f, int flags) {
    return real(f)->pMethods->xSync(real(f), flags);
}
int size(sqlite3_file* f, sqlite3_int64* size) {
    return real(f)->pMethods->xFileSize(real(f), size);
}
int lock(sqlite3_file* f, int kind) {
    return real(f)->pMethods->xLock(real(f), kind);
}
int unlock(sqlite3_file* f, int kind) {
    return real(f)->pMethods->xUnlock(real(f), kind);
}
int reserved(sqlite3_file* f, int* out) {
    return real(f)->pMethods->xCheckReservedLock(real(f), out);
}
int control(sqlite3_file* f, int op, void* arg) {
    return real(f)->pMethods->xFileControl(real(f), op, arg);
}
int sector(sqlite3_file* f) {
    return real(f)->pMethods->xSectorSize(real(f));
}
int traits(sqlite3_file* f) {
    return real(f)->pMethods->xDeviceCharacteristics(real(f));
}
int shm_map(sqlite3_file* f, int page, int bytes, int extend, void volatile** out) {
    return real(f)->pMethods->xShmMap(real(f), page, bytes, extend, out);
}
int shm_lock(sqlite3_file* f, int offset, int n, int flags) {
    return real(f)->pMethods->xShmLock(real(f), offset, n, flags);
}
void shm_barrier(sqlite3_file* f) {
    real(f)->pMethods->xShmBarrier(real(f));
}
int shm_unmap(sqlite3_file* f, int remove) {
    return real(f)->pMethods->xShmUnmap(real(f), remove);
}

const sqlite3_io_methods methods = {2,        close,       read,      write,   truncate, sync,   size,
                                    lock,     unlock,      reserved,  control, sector,   traits, shm_map,
                                    shm_lock, shm_barrier, shm_unmap, nullptr, nullptr};

int open(sqlite3_vfs* vfs, const char* name, sqlite3_file* f, int flags, int* out) {
    auto* under = static_cast<sqlite3_vfs*>(vfs->pAppData);
    auto* file = reinterpret_cast<File*>(f);
    file->real = reinterpret_cast<sqlite3_file*>(file + 1);
    std::memset(file->real, 0, static_cast<std::size_t>(under->szOsFile));
    const int code = under->xOpen(under, name, file->real, flags, out);
    file->base.pMethods = file->real->pMethods ? &methods : nullptr;
    return code;
}

}  // namespace

std::string faulty_disk() {
    static sqlite3_vfs vfs = [] {
        sqlite3_vfs* under = sqlite3_vfs_find(nullptr);
        sqlite3_vfs ours = *under;
        ours.zName = "spile-faulty-disk";
        ours.szOsFile = static_cast<int>(sizeof(File)) + under->szOsFile;
        ours.pAppData = under;
        ours.xOpen = open;
        return ours;
    }();
    sqlite3_vfs_register(&vfs, 0);
    return vfs.zName;
}

void let_write(long writes) {
    room = writes;
    asked = 0;
}

long writes_asked() {
    return asked;
}

}  // namespace spile::shop
