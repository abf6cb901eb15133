// Catch2 2.13's main takes longer to compile than most of the tests: once, here.
#define CATCH_CONFIG_MAIN
#include <catch.hpp>
