// What is written for other programs (SVG, SBML, HTML, PDF) from hostile text, read by libxml2's xmllint and Poppler's
// pdftotext, which know nothing of us.
#include <doctest/doctest.h>

#include <imgui.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>

#include "draw/cairo_canvas.hpp"
#include "draw/markup.hpp"
#include "draw/svg_canvas.hpp"
#include "exchange/sbml.hpp"
#include "scenario/visible.hpp"
#include "sheet/sheet.hpp"
#include "support/folder.hpp"
#include "support/hostile.hpp"
#include "support/screen.hpp"

using namespace drawdown;

namespace {

std::string printed_by_program(const std::string& command) {
  std::string out;
  FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
  REQUIRE(pipe != nullptr);
  char buffer[4096];
  for (std::size_t n = 0; (n = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;) out.append(buffer, n);
  (void)::pclose(pipe);
  return out;
}

void put(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

// Files in a folder of their own, all read in one run of xmllint.
class Documents {
 public:
  void add(const std::string& text) {
    count_ += 1;
    put(folder_.path + "/" + std::to_string(1000 + count_) + ".xml", text);
  }
  [[nodiscard]] std::size_t count() const { return count_; }
  // What xmllint says of each that is not well formed.
  [[nodiscard]] std::string faults() const {
    return printed_by_program("cd '" + folder_.path + "' && xmllint --noout --nonet --huge *.xml");
  }
  [[nodiscard]] std::size_t faulty() const {
    std::size_t n = 0;
    for (std::size_t i = 1; i <= count_; ++i) {
      const std::string file = folder_.path + "/" + std::to_string(1000 + i) + ".xml";
      n += std::system(("xmllint --noout --nonet '" + file + "' >/dev/null 2>&1").c_str()) == 0 ? 0U : 1U;
    }
    return n;
  }

 private:
  support::Folder folder_;
  std::size_t count_ = 0;
};

struct Fonts {
  Fonts() {
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    set = draw::load_fonts(*ImGui::GetIO().Fonts, 15);
  }
  Fonts(const Fonts&) = delete;
  Fonts(Fonts&&) = delete;
  Fonts& operator=(const Fonts&) = delete;
  Fonts& operator=(Fonts&&) = delete;
  ~Fonts() { ImGui::DestroyContext(); }
  draw::FontSet set;
};

void write_all(draw::Canvas& canvas, const std::string& text) {
  const look::Colour ink{0, 0, 0, 1};
  canvas.text({10, 10}, text, draw::Type::body, ink);
  canvas.fitted({10, 40, 300, 20}, text, draw::Type::strong, ink);
  canvas.fitted_end({10, 70, 300, 20}, text, draw::Type::small, ink);
  canvas.paragraph({10, 100, 300, 400}, text, draw::Type::body, ink);
}

// Markup's signs replaced, and nothing else: what one would write without knowing what XML forbids.
std::string only_escaped(const std::string& text) {
  std::string out;
  for (const char c : text) out += c == '&' ? "&amp;" : c == '<' ? "&lt;" : c == '>' ? "&gt;" : std::string(1, c);
  return out;
}

std::string replaced(std::string in, const std::string& what, const std::string& with) {
  for (std::size_t at = in.find(what); at != std::string::npos; at = in.find(what, at + with.size())) {
    in.replace(at, what.size(), with);
  }
  return in;
}

}  // namespace

TEST_CASE("SVG of any text is well formed to xmllint, and without the cleaning it is not") {
  const Fonts fonts;
  Documents clean;
  Documents raw;
  for (const std::string& text : support::nasty_strings()) {
    draw::SvgCanvas canvas(400, 600, fonts.set);
    write_all(canvas, text);
    clean.add(canvas.document(text, text));
    const draw::SvgCanvas empty(400, 600, fonts.set);
    raw.add(replaced(empty.document("TITLE", ""), "TITLE", only_escaped(text)));
  }
  CHECK(clean.count() == 100);
  CHECK(clean.faults() == "");
  CHECK(raw.faulty() > 70);  // the random ones, and those with control characters or bad bytes
}

TEST_CASE("SVG of a whole screen of hostile words is well formed, in every view and in a talk") {
  Documents all;
  for (const std::size_t which : {std::size_t{0}, std::size_t{21}, std::size_t{26}, std::size_t{36}, std::size_t{90}}) {
    const std::string text = support::nasty_strings()[which];
    stage::AppState state;
    state = work::Executor().settle(std::move(state), stage::StoryOpened{support::story_of(text), text});
    state = work::Executor().settle(std::move(state), stage::ResultsText{text, support::results_of(text, 5, 5), false});
    REQUIRE(state.own.reading.rows.size() >= 5);
    REQUIRE_FALSE(state.own.reading.rejected.empty());
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    for (std::size_t view = 0; view <= stage::view_names.size(); ++view) {
      state.page.view = static_cast<stage::View>(view % stage::view_names.size());
      state.own.page = stage::OwnPage::lines;
      state.talk.step = view == stage::view_names.size() ? std::optional<std::size_t>(0) : std::nullopt;
      state.problem = view % 2 == 0 ? text : "";
      shell::Shell shell(state, support::source_folder() + "/assets");
      (void)shell.fit_fonts(1600, 900);
      all.add(shell.svg(1600, 900));
    }
    ImGui::DestroyContext();
  }
  CHECK(all.faults() == "");
}

TEST_CASE(
    "SBML of a story with one of a hundred hostile titles is well formed to xmllint, and without the cleaning it is "
    "not") {
  Documents clean;
  Documents raw;
  scenario::Scenario story = support::story_of("TITLE", 1.0);
  const auto body = body::make_body(story.patient);
  const std::string plain = exchange::to_sbml(*simulate(body, story));
  REQUIRE(plain.find("TITLE") != std::string::npos);
  for (const std::string& text : support::nasty_strings()) {
    raw.add(replaced(plain, "TITLE", only_escaped(text)));
    // The whole way for the first forty; the rest only show that escaping alone is not enough.
    if (clean.count() < 40) {
      story.title = text;
      clean.add(exchange::to_sbml(*simulate(body, story)));
    }
  }
  CHECK(clean.count() == 40);
  CHECK(clean.faults() == "");
  CHECK(raw.faulty() > 70);
}

TEST_CASE("HTML of any results holds no more elements than that of quiet ones, and xmllint finds nothing wrong in it") {
  const auto words = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  const auto page = [&](const std::string& note) {
    const labs::Reading reading = labs::read(support::results_of(note, 12, 3));
    const labs::Noise noise;
    const labs::Judgement judged = labs::judge(reading.rows, noise, {});
    return sheet::html({reading, judged, noise, {}, nullptr}, words);
  };
  const auto elements = [](const std::string& html) { return std::count(html.begin(), html.end(), '<'); };
  const std::string quiet = page("x");
  const support::Folder folder;
  const auto faults = [&](const std::string& html) {
    put(folder.path + "/page.html", html);
    std::istringstream lines(printed_by_program("xmllint --html --noout --nonet '" + folder.path + "/page.html'"));
    std::string found;
    // The parser knows HTML 4: elements that came later it names, and that is all it may say.
    for (std::string line; std::getline(lines, line);) {
      const bool later = line.find("error : Tag ") != std::string::npos && line.find(" invalid") != std::string::npos;
      if (line.find("error") != std::string::npos && !later) found += line + "\n";
    }
    return found;
  };
  std::size_t pages = 0;
  for (const std::string& text : support::nasty_strings()) {
    try {
      const std::string html = page(text);
      CHECK(elements(html) == elements(quiet));
      CHECK(support::unfit(html).empty());
      pages += 1;
    } catch (const labs::ReadError& error) {  // such names of columns leave no names
      CHECK(support::unfit(error.what()).empty());
    }
    CHECK(faults("<html><body><p title=\"" + draw::escaped(text) + "\" lang='" + draw::escaped(text) + "'>" +
                 draw::escaped(text) + "</p></body></html>") == "");
  }
  CHECK(pages > 70);
  CHECK(faults(quiet) == "");
  CHECK(faults("<html><body><p title=\"a\"b\">&bad <</p></body></html>") != "");
}

TEST_CASE(
    "PDF of a hundred hostile texts is a file pdftotext reads, and in one of them the text made visible is looked "
    "for") {
  const support::Folder folder;
  for (const std::string& text : support::nasty_strings()) {
    draw::CairoCanvas canvas(draw::CairoCanvas::Kind::pdf, 400, 600, 10);
    canvas.describe(text);
    write_all(canvas, text);
    put(folder.path + "/page.pdf", canvas.finish());
    const std::string read = printed_by_program("pdftotext -raw '" + folder.path + "/page.pdf' -");
    CHECK(read.find("Error") == std::string::npos);
    // Page ends, and the embeddings pdftotext itself puts round letters written from the right.
    std::string told = replaced(read, "\f", "");
    for (const char* own : {"\xe2\x80\xaa", "\xe2\x80\xab", "\xe2\x80\xac"}) told = replaced(told, own, "");
    const std::string what = support::unfit(told);
    CHECK(what == "");
  }
  draw::CairoCanvas canvas(draw::CairoCanvas::Kind::pdf, 400, 600, 10);
  write_all(canvas, "\x1b[2J");
  put(folder.path + "/page.pdf", canvas.finish());
  CHECK(printed_by_program("pdftotext -raw '" + folder.path + "/page.pdf' -").find("\\x1b[2J") != std::string::npos);
}
