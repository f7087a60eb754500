#!/bin/sh
# Installs what is missing, builds, and passes every test. From anywhere; needs Debian 12 and root or sudo for packages.
#   sh tests/run.sh                 all tests, the gates (clang-format, clang-tidy) and the window under Xvfb
#   sh tests/run.sh -R published    only the tests whose name matches
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
sh "$top/.ci/setup" test
build=$top/build/test
cmake -S "$top" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DDRAWDOWN_TESTS=ON
cmake --build "$build"
ctest --test-dir "$build" --output-on-failure --no-tests=error -j "$(nproc)" "$@"
