// The page itself.
#include "sheet/sheet.hpp"

#include "draw/cairo_canvas.hpp"
#include "draw/markup.hpp"
#include "sheet/results_chart.hpp"

namespace drawdown::sheet {

namespace {

using draw::Box;
using draw::CairoCanvas;
using draw::escaped;
using draw::Type;
using labs::Protein;

constexpr float page_width = 595.0F;  // A4, points
constexpr float page_height = 842.0F;
constexpr float margin = 40.0F;
constexpr float chart_height = 175.0F;

void draw_charts(draw::Canvas& canvas, const Content& c, const look::WordBook& words, const Box& box) {
  const look::Palette& paper = look::palette(look::Room::print);
  const float gap = 14.0F;
  const float w = (box.w - gap) / 2;
  for (const Protein p : {Protein::c3, Protein::c4}) {
    ResultsChart chart;
    chart.protein = p;
    chart.rows = &c.reading.rows;
    chart.judged = p == Protein::c3 ? &c.judged.c3 : &c.judged.c4;
    chart.cv = c.noise.of(p);
    chart.range = chart.judged->ranges.band(p == Protein::c3 ? c.laboratory.c3 : c.laboratory.c4);
    chart.unit = c.reading.unit;
    const float x = p == Protein::c3 ? box.x : box.x + w + gap;
    draw_results_chart(canvas, paper, words, chart, {x, box.y, w, box.h});
  }
}

std::string period(const Content& c, const look::WordBook& words) {
  const auto& rows = c.reading.rows;
  if (rows.empty()) return {};
  if (rows.size() == 1) return words.fill("sheet.period_one", {labs::iso_date(rows.front().day)});
  return words.fill("sheet.period",
                    {std::to_string(rows.size()), labs::iso_date(rows.front().day), labs::iso_date(rows.back().day)});
}

// Draws all the words from y on with this canvas; returns where they end.
float write_sections(draw::Canvas& canvas, const std::vector<Section>& all, float y, const look::Palette& paper) {
  const float width = page_width - 2 * margin;
  const float em = canvas.em();
  for (const Section& section : all) {
    canvas.text({margin, y}, section.title, Type::strong, paper.ink);
    y += 1.45F * em;
    int number = 0;
    for (const std::string& line : section.lines) {
      const std::string text = section.numbered ? std::to_string(++number) + ".  " + line : "–  " + line;
      y += canvas.paragraph({margin + 0.6F * em, y, width - 0.6F * em, page_height}, text, Type::small, paper.ink) +
           0.15F * em;
    }
    y += 0.55F * em;
  }
  return y;
}

}  // namespace

std::string pdf(const Content& content, const look::WordBook& words) {
  const look::Palette& paper = look::palette(look::Room::print);
  const auto all = sections(content, words);
  // The largest type with which everything stays on the one page.
  const float head = 52.0F;
  const float words_from = margin + head + chart_height + 12.0F;
  float em = 12.5F;
  for (; em > 8.0F; em -= 0.25F) {
    CairoCanvas trial(CairoCanvas::Kind::pdf, page_width, page_height, em);
    if (write_sections(trial, all, words_from, paper) <= page_height - margin) break;
  }
  CairoCanvas canvas(CairoCanvas::Kind::pdf, page_width, page_height, em);
  canvas.describe(words.at("sheet.title"));
  canvas.text({margin, margin}, words.at("sheet.title"), Type::title, paper.ink);
  canvas.text({margin, margin + 30.0F}, period(content, words), Type::small, paper.quiet);
  draw_charts(canvas, content, words, {margin, margin + head, page_width - 2 * margin, chart_height});
  (void)write_sections(canvas, all, words_from, paper);
  return canvas.finish();
}

std::string html(const Content& content, const look::WordBook& words) {
  CairoCanvas charts(CairoCanvas::Kind::svg, 700.0F, 260.0F, 14.0F);
  draw_charts(charts, content, words, {0, 4, 700, 250});
  std::string svg = charts.finish();
  svg.erase(0, svg.find("<svg"));  // without the XML declaration
  std::string out =
      "<!doctype html>\n<html lang=\"" + words.at("sheet.language") + "\">\n<meta charset=\"utf-8\">\n<title>" +
      escaped(words.at("sheet.title")) +
      "</title>\n<style>\n"
      "body{font:16px/1.4 Inter,'Noto Sans',sans-serif;max-width:46em;margin:2em auto;padding:0 1em;color:#000}\n"
      "h1{font-size:1.6em;margin-bottom:.1em}h2{font-size:1.1em;margin:1em 0 .2em}svg{width:100%;height:auto}\n"
      "li{margin:.15em 0}@media print{body{font-size:10.5px;margin:0}}\n</style>\n<body>\n<h1>" +
      escaped(words.at("sheet.title")) + "</h1>\n<p>" + escaped(period(content, words)) +
      "</p>\n<figure role=\"img\" aria-label=\"" + escaped(words.at("sheet.charts")) + "\" style=\"margin:0\">\n" +
      svg + "</figure>\n";
  for (const Section& section : sections(content, words)) {
    out += "<h2>" + escaped(section.title) + "</h2>\n" + (section.numbered ? "<ol>\n" : "<ul>\n");
    for (const std::string& line : section.lines) out += "<li>" + escaped(line) + "</li>\n";
    out += section.numbered ? "</ol>\n" : "</ul>\n";
  }
  return out + "</body>\n</html>\n";
}

}  // namespace drawdown::sheet
