// One input tried; aborts if something that must hold does not.
#pragma once

#include <string>

int fuzz_one(const std::string& text);
