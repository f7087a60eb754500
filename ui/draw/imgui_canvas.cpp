// Soft-edged geometry written straight into the draw list: no multisampling is needed, which a software renderer
// could not pay for.
#include "draw/imgui_canvas.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace drawdown::draw {

namespace {

ImU32 packed(const look::Colour& c) {
  return ImGui::ColorConvertFloat4ToU32({c.r, c.g, c.b, c.a});
}
ImVec2 vec(Point p) {
  return {p.x, p.y};
}
constexpr float feather = 1.0F;  // pixels over which an edge fades
// Vertices of one draw list.
constexpr std::size_t most_vertices = 64000;
constexpr std::size_t left_to_words = 20000;
constexpr std::size_t of_round = 1100;  // of a circle or a round corner's box, the largest
constexpr std::size_t of_point = 4;     // of a line's point, thick and feathered
constexpr std::size_t of_glyph = 4;
constexpr float most_dashes = 400;

std::string first_existing(std::initializer_list<const char*> paths) {
  for (const char* path : paths) {
    std::error_code code;
    if (std::filesystem::exists(path, code)) return path;
  }
  return {};
}

}  // namespace

FontSet load_fonts(ImFontAtlas& atlas, float em) {
  const std::string regular = first_existing(
      {"/usr/share/fonts/opentype/inter/Inter-Regular.otf", "/usr/share/fonts/truetype/noto/NotoSans-Regular.ttf"});
  const std::string strong = first_existing(
      {"/usr/share/fonts/opentype/inter/Inter-SemiBold.otf", "/usr/share/fonts/truetype/noto/NotoSans-Bold.ttf"});
  // Latin with accents, Greek, punctuation and ellipsis, superscripts, arrows, mathematics, simple shapes.
  static const std::array<ImWchar, 17> ranges{0x0020, 0x017F, 0x0370, 0x03FF, 0x2010, 0x2044, 0x2070, 0x209F, 0x2190,
                                              0x21FF, 0x2200, 0x22FF, 0x25A0, 0x25FF, 0x2660, 0x266F, 0};
  FontSet set;
  set.em = em;
  atlas.Clear();
  ImFontConfig config;
  config.OversampleH = 1;
  config.OversampleV = 1;
  config.PixelSnapH = true;
  for (std::size_t i = 0; i < set.fonts.size(); ++i) {
    const auto type = static_cast<Type>(i);
    const std::string& file = is_strong(type) ? strong : regular;
    const float pixels = std::round(em * size_of(type));
    set.fonts[i] = file.empty() ? nullptr : atlas.AddFontFromFileTTF(file.c_str(), pixels, &config, ranges.data());
    if (set.fonts[i] == nullptr) set.fonts[i] = atlas.AddFontDefault();
  }
  atlas.Build();
  return set;
}

ImGuiCanvas::ImGuiCanvas(ImDrawList& list, const FontSet& fonts, ImDrawList* above)
    : list_(&list), above_(above), fonts_(&fonts) {
  // Lines drawn through the atlas would need its texture.
  list_->Flags &= ~ImDrawListFlags_AntiAliasedLinesUseTex;
  if (above_ != nullptr) above_->Flags &= ~ImDrawListFlags_AntiAliasedLinesUseTex;
}

ImGuiCanvas::~ImGuiCanvas() {
  textured();
}

void ImGuiCanvas::bare() {
  if (bare_) return;
  list_->PushTextureID(nullptr);
  bare_ = true;
}

void ImGuiCanvas::textured() {
  if (!bare_) return;
  list_->PopTextureID();
  bare_ = false;
}

bool ImGuiCanvas::has_room(std::size_t vertices, bool words) {
  const auto used = [this] { return static_cast<std::size_t>(list_->VtxBuffer.Size); };
  if (used() + vertices > most_vertices && above_ != nullptr) {
    textured();
    full_ = used();
    list_ = above_;
    above_ = nullptr;
  }
  const std::size_t lists = full_ > 0 || above_ != nullptr ? 2 : 1;
  const bool fits = used() + vertices <= most_vertices;
  if (fits && full_ + used() + vertices <= lists * most_vertices - (words ? 0 : lists * left_to_words)) return true;
  refuse();
  return false;
}

void ImGuiCanvas::fill(const Box& box, const look::Colour& colour, float radius) {
  if (!has_room(radius > 0 ? of_round : 4)) return;
  bare();
  list_->AddRectFilled({box.x, box.y}, {box.right(), box.bottom()}, packed(colour), radius);
}

void ImGuiCanvas::outline(const Box& box, const look::Colour& colour, float radius, float width) {
  if (!has_room(of_round)) return;
  bare();
  list_->AddRect({box.x, box.y}, {box.right(), box.bottom()}, packed(colour), radius, 0, width);
}

void ImGuiCanvas::strip(const std::vector<Point>& left, const std::vector<Point>& right, const look::Colour& colour) {
  if (!has_room(4 * left.size())) return;
  bare();
  const std::size_t n = std::min(left.size(), right.size());
  if (n < 2) return;
  const ImU32 solid = packed(colour);
  const ImU32 clear = packed(colour.with_alpha(0));
  const ImVec2 white = ImGui::GetFontTexUvWhitePixel();
  const auto count = static_cast<int>(n);
  list_->PrimReserve((count - 1) * 18, count * 4);
  const auto first = static_cast<unsigned>(list_->_VtxCurrentIdx);
  for (std::size_t i = 0; i < n; ++i) {
    const float dx = left[i].x - right[i].x;
    const float dy = left[i].y - right[i].y;
    const float length = std::max(1e-3F, std::hypot(dx, dy));
    const float inside = std::min(feather * 0.5F, length * 0.5F);
    const float ux = dx / length;
    const float uy = dy / length;
    const float out = feather * 0.5F;
    list_->PrimWriteVtx({left[i].x + ux * out, left[i].y + uy * out}, white, clear);
    list_->PrimWriteVtx({left[i].x - ux * inside, left[i].y - uy * inside}, white, solid);
    list_->PrimWriteVtx({right[i].x + ux * inside, right[i].y + uy * inside}, white, solid);
    list_->PrimWriteVtx({right[i].x - ux * out, right[i].y - uy * out}, white, clear);
  }
  for (unsigned i = 0; i + 1 < n; ++i) {
    for (unsigned k = 0; k < 3; ++k) {
      const unsigned a = first + i * 4 + k;
      for (const unsigned v : {a, a + 1, a + 5, a, a + 5, a + 4}) list_->PrimWriteIdx(static_cast<ImDrawIdx>(v));
    }
  }
}

void ImGuiCanvas::shape(Point centre, const std::vector<Point>& outline, const look::Colour& colour) {
  if (!has_room(2 * outline.size() + 1)) return;
  bare();
  const auto n = static_cast<unsigned>(outline.size());
  if (n < 3) return;
  const ImU32 solid = packed(colour);
  const ImU32 clear = packed(colour.with_alpha(0));
  const ImVec2 white = ImGui::GetFontTexUvWhitePixel();
  list_->PrimReserve(static_cast<int>(n * 9), static_cast<int>(n * 2 + 1));
  const auto first = static_cast<unsigned>(list_->_VtxCurrentIdx);
  list_->PrimWriteVtx(vec(centre), white, solid);
  for (const Point& p : outline) {
    const float dx = p.x - centre.x;
    const float dy = p.y - centre.y;
    const float length = std::max(1e-3F, std::hypot(dx, dy));
    const float ux = dx / length * feather * 0.5F;
    const float uy = dy / length * feather * 0.5F;
    list_->PrimWriteVtx({p.x - ux, p.y - uy}, white, solid);
    list_->PrimWriteVtx({p.x + ux, p.y + uy}, white, clear);
  }
  for (unsigned i = 0; i < n; ++i) {
    const unsigned a = first + 1 + 2 * i;
    const unsigned b = first + 1 + 2 * ((i + 1) % n);
    for (const unsigned v : {first, a, b, a, a + 1, b + 1, a, b + 1, b}) list_->PrimWriteIdx(static_cast<ImDrawIdx>(v));
  }
}

void ImGuiCanvas::line(const std::vector<Point>& points, const look::Colour& colour, float width, float dash) {
  if (!has_room(of_point * points.size())) return;
  bare();
  if (points.size() < 2) return;
  const ImU32 ink = packed(colour);
  if (dash <= 0) {
    static_assert(sizeof(Point) == sizeof(ImVec2), "points are handed over as they are");
    std::vector<ImVec2> path;
    path.reserve(points.size());
    for (const Point& p : points) path.push_back(vec(p));
    list_->AddPolyline(path.data(), static_cast<int>(path.size()), ink, ImDrawFlags_None, width);
    return;
  }
  // A line that goes far gets longer dashes, not more of them.
  float length = 0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    length += std::hypot(points[i].x - points[i - 1].x, points[i].y - points[i - 1].y);
  }
  if (!(length < 1e7F)) return;
  dash = std::max(dash, length / (2 * most_dashes));
  if (!has_room(of_point * (points.size() + 2 + static_cast<std::size_t>(length / dash)))) return;
  float travelled = 0;  // within the current dash or gap
  bool drawing = true;
  std::vector<ImVec2> piece_path{vec(points[0])};
  const auto flush = [&] {
    if (drawing && piece_path.size() > 1) {
      list_->AddPolyline(piece_path.data(), static_cast<int>(piece_path.size()), ink, ImDrawFlags_None, width);
    }
    piece_path.clear();
  };
  for (std::size_t i = 1; i < points.size(); ++i) {
    Point a = points[i - 1];
    const Point b = points[i];
    float left = std::hypot(b.x - a.x, b.y - a.y);
    while (left > 1e-4F) {
      const float piece = std::min(left, dash - travelled);
      const float s = piece / left;
      const Point c{a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)};
      if (drawing) piece_path.push_back(vec(c));
      a = c;
      left -= piece;
      travelled += piece;
      if (travelled >= dash - 1e-4F) {
        flush();
        travelled = 0;
        drawing = !drawing;
        piece_path.push_back(vec(c));
      }
    }
  }
  flush();
}

void ImGuiCanvas::dot(Point centre, float radius, const look::Colour& colour) {
  if (!has_room(of_round)) return;
  bare();
  list_->AddCircleFilled(vec(centre), radius, packed(colour), 0);
}

void ImGuiCanvas::ring(Point centre, float radius, const look::Colour& colour, float width) {
  if (!has_room(of_round)) return;
  bare();
  list_->AddCircle(vec(centre), radius, packed(colour), 0, width);
}

void ImGuiCanvas::clip(const Box& box) {
  for (ImDrawList* list : {list_, above_}) {
    if (list != nullptr) list->PushClipRect({box.x, box.y}, {box.right(), box.bottom()}, true);
  }
}
void ImGuiCanvas::unclip() {
  for (ImDrawList* list : {list_, above_}) {
    if (list != nullptr) list->PopClipRect();
  }
}

float ImGuiCanvas::measure(const std::string& words, Type type) const {
  ImFont* f = font(type);
  return f->CalcTextSizeA(f->FontSize, 1e9F, 0, words.c_str(), words.c_str() + words.size()).x;
}

float ImGuiCanvas::line_height(Type type) const {
  return font(type)->FontSize;
}

void ImGuiCanvas::glyphs(Point at, const std::string& words, Type type, const look::Colour& colour) {
  if (!has_room(of_glyph * words.size(), true)) return;
  textured();
  ImFont* f = font(type);
  list_->AddText(f, f->FontSize, vec(at), packed(colour), words.c_str(), words.c_str() + words.size());
}

Box ImGuiCanvas::current_clip() const {
  const ImVec2 low = list_->GetClipRectMin();
  const ImVec2 high = list_->GetClipRectMax();
  return {low.x, low.y, high.x - low.x, high.y - low.y};
}

}  // namespace drawdown::draw
