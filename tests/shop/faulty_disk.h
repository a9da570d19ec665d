// A disk that fills up: SQLite's own file layer, but after so many writes each further one finds no room.
#pragma once

#include <string>

namespace spile::shop {

/// Registers the layer once; its name, for OpenOptions::disk.
std::string faulty_disk();
/// Writes that still succeed; below zero: without end.
void let_write(long writes);
/// How many have been asked for since let_write.
long writes_asked();

}  // namespace spile::shop
