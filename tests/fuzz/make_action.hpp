// Any action a person or the clock can send, from bytes. Answers of the world are not made here: the world gives them.
#pragma once

#include <optional>
#include <string>

#include "fuzz/bytes.hpp"
#include "stage/action.hpp"

namespace drawdown::fuzz {

// None where the bytes fall on an answer: then it is the world's turn. A kind of action this file says nothing of is
// sent as it stands, all zero, so that a new one is tried from its first day.
[[nodiscard]] std::optional<stage::Action> make_action(Bytes& bytes, const stage::AppState& state);
// Its kind's name, for findings.
[[nodiscard]] std::string name_of(const stage::Action& action);

}  // namespace drawdown::fuzz
