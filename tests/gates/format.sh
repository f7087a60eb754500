#!/bin/sh
# Every source file is as clang-format writes it.
set -eu
cd "$1"
find sim ui tests -name '*.hpp' -o -name '*.cpp' | sort | xargs clang-format --dry-run --Werror
