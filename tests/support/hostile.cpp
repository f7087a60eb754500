// The strings and what is made of them.
#include "support/hostile.hpp"

#include <iostream>
#include <random>
#include <sstream>

#include "command/command.hpp"
#include "labs/dates.hpp"
#include "scenario/read.hpp"
#include "scenario/visible.hpp"

namespace drawdown::support {

namespace {

std::string times(const std::string& text, std::size_t count) {
  std::string out;
  out.reserve(text.size() * count);
  for (std::size_t i = 0; i < count; ++i) out += text;
  return out;
}

}  // namespace

std::vector<std::string> nasty_strings() {
  using namespace std::string_literals;
  std::vector<std::string> all{"\x1b[2J\x1b[H all is well"s,  // clears the terminal
                               "\x1b]0;another title\x07"s,   // names its window
                               "\x1b]52;c;cm0gLXJm\x07"s,     // writes its clipboard
                               "\x9b"
                               "31m red"s,  // the one-byte form, which is no UTF-8
                               "\xc2\x9b"
                               "31m red"s,           // the same as UTF-8
                               "\x1bP$q\"p\x1b\\"s,  // asks it to answer
                               "\x1b[8m hidden \x1b[0m"s,
                               "safe\rgone"s,
                               "a\r\nb\nc"s,
                               "\t=1+1"s,
                               "=cmd|' /C calc'!A0"s,
                               "+1+1"s,
                               "-1+1"s,
                               "@SUM(A1:A9)"s,
                               "a,\"=1+1\",b"s,
                               "with\0zero"s,
                               "\x01\x02\x03\x04\x05\x06\x07\x08\x0b\x0c\x0e\x1f\x7f"s,
                               "]]>"s,
                               "<![CDATA[ x ]]>"s,
                               "<!-- a -- b --"s,
                               "<script>alert(1)</script>"s,
                               "</title></svg><x a='\">"s,
                               "&amp; &bad; &#0; &#x1b; &"s,
                               "\" ' ` onload=\"x\""s,
                               "\xff\xfe\xfd"s,
                               "\xc0\xaf overlong"s,
                               "\xe0\x80\xaf"s,
                               "\xed\xa0\x80 half a pair"s,
                               "\xed\xbf\xbf"s,
                               "\xf4\x90\x80\x80 too large"s,
                               "\xf0\x9f\x98"s,                   // a face, unfinished
                               "\xef\xbf\xbe \xef\xbf\xbf"s,      // U+FFFE U+FFFF
                               "\xf0\x9f\xbf\xbf \xef\xb7\x90"s,  // U+1FFFF U+FDD0
                               "\xe2\x80\xae"
                               "gnp.exe"s,  // right to left from here
                               "\xe2\x81\xa6 isolated \xe2\x81\xa9"s,
                               "in\xe2\x80\x8bvi\xe2\x80\x8d"
                               "si\xef\xbb\xbf"
                               "ble\xe2\x81\xa0"s,
                               "\xf3\xa0\x81\x81\xf3\xa0\x81\x82 tags"s,
                               "line\xe2\x80\xa8separator\xe2\x80\xa9paragraph\xc2\x85next"s,
                               times("x", 3000),
                               times("C3 ", 700)};
  std::mt19937 random(4071);
  std::uniform_int_distribution<int> byte(0, 255);
  for (int i = 0; i < 60; ++i) {
    std::string text;
    for (int k = 0; k < 5 + 3 * i; ++k) text += static_cast<char>(byte(random));
    all.push_back(std::move(text));
  }
  return all;
}

scenario::Scenario story_of(const std::string& whole, double days) {
  const std::string text = whole.substr(0, scenario::longest_text);
  scenario::Scenario s;
  s.name = text;
  s.title = text;
  s.message = {text, text, text};
  s.days = days;
  scenario::Event event;
  event.day = 1.0;
  event.lever = body::lever_at("antibody_drive");
  event.value = 4.0;
  event.label = text;
  s.events.push_back(event);
  for (int i = 0; i < 3; ++i) {
    scenario::TalkStep step;
    step.say = {text, text, text};
    step.ask = text;
    step.reveal = text;
    s.talk.push_back(std::move(step));
  }
  s.learn = {text};
  s.sources = {text};
  return s;
}

scenario::Scenario largest_story() {
  const std::string words = times("C3 C4 ", scenario::longest_text / 6);
  scenario::Scenario s = story_of(words, scenario::longest_story);
  s.name = "largest";
  s.events.clear();
  std::mt19937 random(11);
  for (std::size_t i = 0; i < scenario::most_events; ++i) {
    scenario::Event event;
    event.day = scenario::longest_story * static_cast<double>(i) / static_cast<double>(scenario::most_events);
    do {
      event.lever = body::LeverId(random() % body::standard_model()->levers().size());
    } while (body::standard_model()->levers()[event.lever].kind == body::LeverKind::counted ||
             body::standard_model()->levers()[event.lever].group == body::LeverGroup::person);
    const body::Lever& lever = body::standard_model()->levers()[event.lever];
    event.value = random() % 2 == 0 ? lever.least : lever.most;
    event.label = words;
    s.events.push_back(std::move(event));
  }
  s.talk.resize(scenario::most_talk_steps, s.talk.front());
  return s;
}

std::string results_of(const std::string& note, std::size_t rows, std::size_t unreadable) {
  std::string quoted;
  for (const char c : note) quoted += c == '"' ? "\"\"" : c == '\0' ? "0" : std::string(1, c);
  std::ostringstream out;
  out << "date,C3,C4,treatment,flare,\"" << quoted << "\"\n";
  for (std::size_t i = 0; i < rows; ++i) {
    out << labs::iso_date(static_cast<int>(4000 + i % 40000)) << ",1." << i % 90 << ",0.2" << i % 10 << ",\""
        << (i < 3 ? quoted : std::string("x")) << "\"," << (i % 7 == 0 ? "yes" : "no") << ",\n";
  }
  for (std::size_t i = 0; i < unreadable; ++i) out << "2020-01-01,\"" << (i < 3 ? quoted : "no value") << "\",0.2\n";
  return out.str();
}

std::string unfit(const std::string& text) {
  const auto at = [&](std::size_t i, const char* what) { return std::string(what) + " at byte " + std::to_string(i); };
  for (std::size_t i = 0; i < text.size();) {
    const auto byte = [&](std::size_t k) { return k < text.size() ? static_cast<unsigned char>(text[k]) : 0U; };
    const unsigned first = byte(i);
    if (first < 0x80) {
      if ((first < 0x20 && first != '\n' && first != '\t') || first == 0x7F) return at(i, "a control character");
      i += 1;
      continue;
    }
    const std::size_t n = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
    unsigned long code = first & (0x7FU >> n);
    for (std::size_t k = 1; k < n; ++k) {
      if (byte(i + k) < 0x80 || byte(i + k) > 0xBF) return at(i, "no UTF-8");
      code = code * 64 + (byte(i + k) - 0x80);
    }
    if (first < 0xC0 || code < (n == 2 ? 0x80UL : n == 3 ? 0x800UL : 0x10000UL)) return at(i, "no UTF-8");
    if ((code >= 0xD800 && code <= 0xDFFF) || code > 0x10FFFF) return at(i, "no UTF-8");
    if (code < 0xA0) return at(i, "a control character");
    // Unicode 15, Bidi_Control.
    if (code == 0x61C || code == 0x200E || code == 0x200F || (code >= 0x202A && code <= 0x202E) ||
        (code >= 0x2066 && code <= 0x2069)) {
      return at(i, "a change of direction");
    }
    i += n;
  }
  return {};
}

Printed printed_by(std::vector<std::string> words) {
  words.insert(words.begin(), "drawdown");
  std::vector<char*> argv;
  for (std::string& word : words) argv.push_back(word.data());
  std::ostringstream out;
  std::ostringstream err;
  std::streambuf* old_out = std::cout.rdbuf(out.rdbuf());
  std::streambuf* old_err = std::cerr.rdbuf(err.rdbuf());
  const int code = command::run(static_cast<int>(argv.size()), argv.data(), {});
  std::cout.rdbuf(old_out);
  std::cerr.rdbuf(old_err);
  return {code, out.str(), err.str()};
}

}  // namespace drawdown::support
