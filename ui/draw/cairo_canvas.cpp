// Drawing through Cairo.
#include "draw/cairo_canvas.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>

#include <algorithm>
#include <stdexcept>

#include "scenario/visible.hpp"

namespace drawdown::draw {

struct CairoCanvas::Page {
  std::string bytes;
  cairo_surface_t* surface = nullptr;
  cairo_t* cairo = nullptr;
};

namespace {

cairo_status_t append(void* to, const unsigned char* data, unsigned length) {
  static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

double d(float v) {
  return static_cast<double>(v);
}

}  // namespace

CairoCanvas::CairoCanvas(Kind kind, float width, float height, float em)
    : page_(std::make_unique<Page>()), em_(em), clips_{{0, 0, width, height}} {
  page_->surface = kind == Kind::pdf ? cairo_pdf_surface_create_for_stream(append, &page_->bytes, d(width), d(height))
                                     : cairo_svg_surface_create_for_stream(append, &page_->bytes, d(width), d(height));
  page_->cairo = cairo_create(page_->surface);
}

CairoCanvas::~CairoCanvas() {
  cairo_destroy(page_->cairo);
  cairo_surface_destroy(page_->surface);
}

void CairoCanvas::describe(const std::string& title) {
  cairo_pdf_surface_set_metadata(page_->surface, CAIRO_PDF_METADATA_TITLE, scenario::visible(title).c_str());
  cairo_pdf_surface_set_metadata(page_->surface, CAIRO_PDF_METADATA_CREATOR, "Drawdown");
}

std::string CairoCanvas::finish() {
  cairo_show_page(page_->cairo);
  cairo_surface_finish(page_->surface);
  const cairo_status_t status = cairo_surface_status(page_->surface);
  const cairo_status_t drawn = cairo_status(page_->cairo);
  for (const cairo_status_t s : {status, drawn}) {
    if (s != CAIRO_STATUS_SUCCESS && s != CAIRO_STATUS_SURFACE_FINISHED) {
      throw std::runtime_error(std::string("the page could not be drawn: ") + cairo_status_to_string(s));
    }
  }
  return page_->bytes;
}

void CairoCanvas::ink(const look::Colour& c) const {
  cairo_set_source_rgba(page_->cairo, d(c.r), d(c.g), d(c.b), d(c.a));
}

void CairoCanvas::rectangle(const Box& b, float radius) const {
  cairo_t* c = page_->cairo;
  const double r = std::min({d(radius), d(b.w) / 2, d(b.h) / 2});
  if (r <= 0.0) {
    cairo_rectangle(c, d(b.x), d(b.y), d(b.w), d(b.h));
    return;
  }
  constexpr double quarter = 1.5707963267948966;
  cairo_new_sub_path(c);
  cairo_arc(c, d(b.right()) - r, d(b.y) + r, r, -quarter, 0);
  cairo_arc(c, d(b.right()) - r, d(b.bottom()) - r, r, 0, quarter);
  cairo_arc(c, d(b.x) + r, d(b.bottom()) - r, r, quarter, 2 * quarter);
  cairo_arc(c, d(b.x) + r, d(b.y) + r, r, 2 * quarter, 3 * quarter);
  cairo_close_path(c);
}

void CairoCanvas::fill(const Box& box, const look::Colour& colour, float radius) {
  ink(colour);
  rectangle(box, radius);
  cairo_fill(page_->cairo);
}

void CairoCanvas::outline(const Box& box, const look::Colour& colour, float radius, float width) {
  ink(colour);
  rectangle(box, radius);
  cairo_set_line_width(page_->cairo, d(width));
  cairo_set_dash(page_->cairo, nullptr, 0, 0.0);
  cairo_stroke(page_->cairo);
}

void CairoCanvas::strip(const std::vector<Point>& left, const std::vector<Point>& right, const look::Colour& colour) {
  std::vector<Point> round = left;
  round.insert(round.end(), right.rbegin(), right.rend());
  shape({}, round, colour);
}

void CairoCanvas::shape(Point, const std::vector<Point>& outline, const look::Colour& colour) {
  ink(colour);
  cairo_new_path(page_->cairo);
  for (const Point& p : outline) cairo_line_to(page_->cairo, d(p.x), d(p.y));
  cairo_close_path(page_->cairo);
  cairo_fill(page_->cairo);
}

void CairoCanvas::line(const std::vector<Point>& points, const look::Colour& colour, float width, float dash) {
  ink(colour);
  cairo_new_path(page_->cairo);
  for (const Point& p : points) cairo_line_to(page_->cairo, d(p.x), d(p.y));
  cairo_set_line_width(page_->cairo, d(width));
  const double dashes = d(dash);
  cairo_set_dash(page_->cairo, &dashes, dash > 0 ? 1 : 0, 0.0);
  cairo_stroke(page_->cairo);
}

void CairoCanvas::dot(Point centre, float radius, const look::Colour& colour) {
  ink(colour);
  cairo_new_path(page_->cairo);
  cairo_arc(page_->cairo, d(centre.x), d(centre.y), d(radius), 0.0, 6.283185307179586);
  cairo_fill(page_->cairo);
}

void CairoCanvas::ring(Point centre, float radius, const look::Colour& colour, float width) {
  ink(colour);
  cairo_new_path(page_->cairo);
  cairo_arc(page_->cairo, d(centre.x), d(centre.y), d(radius), 0.0, 6.283185307179586);
  cairo_set_line_width(page_->cairo, d(width));
  cairo_set_dash(page_->cairo, nullptr, 0, 0.0);
  cairo_stroke(page_->cairo);
}

void CairoCanvas::clip(const Box& box) {
  cairo_save(page_->cairo);
  rectangle(box, 0);
  cairo_clip(page_->cairo);
  clips_.push_back(box);
}

void CairoCanvas::unclip() {
  cairo_restore(page_->cairo);
  clips_.pop_back();
}

void CairoCanvas::choose(Type type) const {
  cairo_select_font_face(page_->cairo, "Inter", CAIRO_FONT_SLANT_NORMAL,
                         is_strong(type) ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(page_->cairo, d(em_ * size_of(type) / line_to_em));
}

float CairoCanvas::measure(const std::string& words, Type type) const {
  choose(type);
  cairo_text_extents_t extents;
  cairo_text_extents(page_->cairo, words.c_str(), &extents);
  return static_cast<float>(extents.x_advance);
}

float CairoCanvas::line_height(Type type) const {
  return em_ * size_of(type);
}

void CairoCanvas::glyphs(Point at, const std::string& words, Type type, const look::Colour& colour) {
  choose(type);
  ink(colour);
  cairo_font_extents_t extents;
  cairo_font_extents(page_->cairo, &extents);
  cairo_move_to(page_->cairo, d(at.x), d(at.y) + extents.ascent);
  cairo_show_text(page_->cairo, words.c_str());
}

}  // namespace drawdown::draw
