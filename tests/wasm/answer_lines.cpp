// Answers questions to the surface, one a line, so that they can be compared with the browser's answers.
#include <iostream>
#include <string>

#include "wasm/surface.h"

int main() {
    for (std::string line; std::getline(std::cin, line);) std::cout << spile::surface::answer(line) << '\n';
}
