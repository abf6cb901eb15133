#include <unistd.h>

#include <iostream>

#include "cli/run.h"

int main(int count, char** words) {
    return motley::cli::run({words + 1, words + count}, {std::cout, std::cerr, isatty(2) == 1});
}
