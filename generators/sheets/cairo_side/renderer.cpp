#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <memory>
#include <numbers>

#include "base/error.hpp"
#include "base/text.hpp"
#include "plan/lettering.hpp"
#include "sheets/cairo_side/font.hpp"
#include "sheets/render.hpp"

namespace fitup::sheets {

namespace {

constexpr double points_per_mm = 72.0 / 25.4;
/// Arcs are drawn as curves that stay this near, in millimetres (the library's default is coarser than a
/// drawing allows).
constexpr double curve_within_mm = 0.001;

using Surface = std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)>;
using Context = std::unique_ptr<cairo_t, decltype(&cairo_destroy)>;

cairo_status_t append(void* text, const unsigned char* bytes, unsigned count) {
    static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(bytes), count);
    return CAIRO_STATUS_SUCCESS;
}

void set_grey(cairo_t* context, double grey) { cairo_set_source_rgb(context, grey, grey, grey); }

/// Dashes after ISO 128 in line widths (from memory, unverified): dashed 8 on 3 off, shorter than its 12 for
/// small charts; chain 24, 3, 1, 3.
void set_pen(cairo_t* context, const Pen& pen) {
    set_grey(context, pen.grey);
    cairo_set_line_width(context, pen.width_mm);
    cairo_set_line_cap(context, CAIRO_LINE_CAP_BUTT);
    cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
    const double w = pen.width_mm;
    const double dashed[] = {8.0 * w, 3.0 * w}, chain[] = {24.0 * w, 3.0 * w, 1.0 * w, 3.0 * w};
    if (pen.dash == Dash::dashed)
        cairo_set_dash(context, dashed, 2, 0.0);
    else if (pen.dash == Dash::chain)
        cairo_set_dash(context, chain, 4, 0.0);
    else
        cairo_set_dash(context, nullptr, 0, 0.0);
}

void fill_and_stroke(cairo_t* context, const std::optional<double>& fill_grey,
                     const std::optional<Pen>& pen) {
    if (fill_grey) {
        set_grey(context, *fill_grey);
        cairo_fill_preserve(context);
    }
    if (pen) {
        set_pen(context, *pen);
        cairo_stroke_preserve(context);
    }
    cairo_new_path(context);
}

void draw(cairo_t* context, const Line& line) {
    cairo_new_path(context);
    for (const Place& point : line.points) cairo_line_to(context, point[0], point[1]);
    if (line.closed) cairo_close_path(context);
    fill_and_stroke(context, line.fill_grey, line.pen);
}

/// The fineness is the curve's, which is written out as it is. For the library's own look at where a stroke
/// reaches its default does, in a tenth of the time.
void add_arc(cairo_t* context, const RoundLine& round) {
    const double usual = cairo_get_tolerance(context);
    cairo_set_tolerance(context, curve_within_mm);
    const auto arc = round.sweep_rad >= 0.0 ? cairo_arc : cairo_arc_negative;
    arc(context, round.centre[0], round.centre[1], round.radius_mm, round.from_rad,
        round.from_rad + round.sweep_rad);
    cairo_set_tolerance(context, usual);
}

void draw(cairo_t* context, const RoundLine& round) {
    cairo_new_path(context);
    add_arc(context, round);
    fill_and_stroke(context, round.fill_grey, round.pen);
}

double shift_of(Anchor anchor, double width_mm) {
    if (anchor == Anchor::left) return 0.0;
    return anchor == Anchor::middle ? -width_mm / 2.0 : -width_mm;
}

/// Where the path ends, bolder than the strokes: a decimal point must not be overlooked.
void add_dot(cairo_t* context, double pen_mm) {
    double x_mm = 0.0, y_mm = 0.0;
    cairo_get_current_point(context, &x_mm, &y_mm);
    cairo_new_path(context);
    cairo_arc(context, x_mm, y_mm, 0.75 * pen_mm, 0.0, 2.0 * std::numbers::pi);
    cairo_fill(context);
}

/// Without any font: our own stroke letters, as narrow as the font that layouts reckon with.
void draw_strokes(cairo_t* context, const Text& text) {
    const double own_mm = plan::lettering_width_mm(text.text, text.size_mm);
    const double width_mm = std::min(own_mm, text_width_mm(text.text, text.size_mm));
    const double narrower = own_mm > 0.0 ? width_mm / own_mm : 1.0;
    cairo_translate(context, shift_of(text.anchor, width_mm) + width_mm / 2.0, -text.size_mm / 2.0);
    const double pen_mm = plan::stroke_share * text.size_mm;
    set_pen(context, {pen_mm, Dash::solid, 0.0});
    cairo_set_line_cap(context, CAIRO_LINE_CAP_ROUND);
    for (const auto& stroke : plan::lettering_lines(text.text, text.size_mm)) {
        cairo_new_path(context);
        for (const plan::Point& point : stroke) cairo_line_to(context, narrower * point.x_mm, -point.y_mm);
        if (stroke.size() > 1)
            cairo_stroke(context);
        else
            add_dot(context, pen_mm);
    }
}

/// Sets the font; there is one.
cairo_text_extents_t extents_of(cairo_t* context, const std::string& text, double size_mm) {
    cairo_set_font_face(context, lettering_font());
    cairo_set_font_size(context, size_mm * size_of_capitals());
    cairo_text_extents_t extents;
    cairo_text_extents(context, text.c_str(), &extents);
    return extents;
}

void draw(cairo_t* context, const Text& text) {
    cairo_save(context);
    cairo_translate(context, text.at[0], text.at[1]);
    cairo_rotate(context, text.turn_rad);
    if (lettering_font() == nullptr) {
        draw_strokes(context, text);
        cairo_restore(context);
        return;
    }
    const cairo_text_extents_t extents = extents_of(context, text.text, text.size_mm);
    set_grey(context, 0.0);
    cairo_move_to(context, shift_of(text.anchor, extents.x_advance), 0.0);
    cairo_show_text(context, text.text.c_str());
    cairo_restore(context);
}

/// Letters where they belong, not where dots are.
void hint_nothing(cairo_t* context) {
    const std::unique_ptr<cairo_font_options_t, decltype(&cairo_font_options_destroy)> options(
        cairo_font_options_create(), cairo_font_options_destroy);
    cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
    cairo_set_font_options(context, options.get());
}

void draw(cairo_t* context, const Clip& clip) {
    cairo_reset_clip(context);
    if (!clip.box) return;
    const auto [left, top, right, bottom] = *clip.box;
    cairo_new_path(context);
    cairo_rectangle(context, left, top, right - left, bottom - top);
    cairo_clip(context);
}

/// Draws and closes the surface.
void render(const Drawing& drawing, cairo_surface_t* surface, double scale) {
    const Context context(cairo_create(surface), cairo_destroy);
    cairo_scale(context.get(), scale, scale);
    hint_nothing(context.get());
    set_grey(context.get(), 1.0);
    cairo_paint(context.get());
    for (const auto& item : drawing.items)
        std::visit([&](const auto& one) { draw(context.get(), one); }, item);
    if (cairo_status(context.get()) != CAIRO_STATUS_SUCCESS)
        throw KernelError(std::string("the drawing failed: ") +
                          cairo_status_to_string(cairo_status(context.get())));
}

/// The library numbers its surfaces through the process; the same drawing must not depend on earlier ones.
std::string with_one_name(std::string svg) {
    const std::string counted = "<g id=\"surface";
    const std::size_t at = svg.find(counted);
    if (at == std::string::npos) return svg;
    const std::size_t end = svg.find('"', at + counted.size());
    return svg.replace(at, end - at, "<g id=\"drawing");
}

/// The header's time: SOURCE_DATE_EPOCH, or 1980, so that the same drawing gives the same bytes.
std::string creation_date() {
    const char* epoch = std::getenv("SOURCE_DATE_EPOCH");
    const auto seconds = epoch != nullptr ? parse_number(epoch) : std::nullopt;
    constexpr double year_1980_s = 315532800.0, year_9999_s = 253402300799.0;
    const bool is_fair = seconds && *seconds >= 0.0 && *seconds <= year_9999_s;
    const std::time_t time = std::time_t(is_fair ? *seconds : year_1980_s);
    std::tm utc{};
    gmtime_r(&time, &utc);
    char text[32];
    std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &utc);
    return text;
}

class CairoRenderer final : public Renderer {
  public:
    std::string svg(const Drawing& drawing) const override {
        std::string text;
        {
            const Surface surface(
                cairo_svg_surface_create_for_stream(append, &text, drawing.width_mm, drawing.height_mm),
                cairo_surface_destroy);
            cairo_svg_surface_set_document_unit(surface.get(), CAIRO_SVG_UNIT_MM);
            render(drawing, surface.get(), 1.0);
            cairo_surface_finish(surface.get());
        }
        return with_one_name(std::move(text));
    }

    using Renderer::pdf;

    std::string pdf(std::span<const Drawing> pages) const override {
        std::string text;
        {
            const Surface surface(cairo_pdf_surface_create_for_stream(append, &text, 1.0, 1.0),
                                  cairo_surface_destroy);
            const std::string title = pages.empty() ? "" : pages.front().title;
            cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
            cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE,
                                           creation_date().c_str());
            for (const Drawing& page : pages) {
                cairo_pdf_surface_set_size(surface.get(), page.width_mm * points_per_mm,
                                           page.height_mm * points_per_mm);
                render(page, surface.get(), points_per_mm);
                cairo_surface_show_page(surface.get());
            }
            cairo_surface_finish(surface.get());
        }
        return text;
    }

    std::string png(const Drawing& drawing, double dots_per_mm) const override {
        std::string bytes;
        const Surface surface(
            cairo_image_surface_create(CAIRO_FORMAT_RGB24, int(std::lround(drawing.width_mm * dots_per_mm)),
                                       int(std::lround(drawing.height_mm * dots_per_mm))),
            cairo_surface_destroy);
        render(drawing, surface.get(), dots_per_mm);
        if (cairo_surface_write_to_png_stream(surface.get(), append, &bytes) != CAIRO_STATUS_SUCCESS)
            throw KernelError("the picture could not be made");
        return bytes;
    }

    double text_width_mm(const std::string& text, double size_mm) const override {
        if (lettering_font() == nullptr) return sheets::text_width_mm(text, size_mm);
        const Surface surface(cairo_recording_surface_create(CAIRO_CONTENT_ALPHA, nullptr),
                              cairo_surface_destroy);
        const Context context(cairo_create(surface.get()), cairo_destroy);
        hint_nothing(context.get());
        return extents_of(context.get(), text, size_mm).x_advance;
    }
};

}  // namespace

}  // namespace fitup::sheets

extern "C" const fitup::sheets::Renderer* fitup_renderer() {
    static const fitup::sheets::CairoRenderer renderer;
    return &renderer;
}
