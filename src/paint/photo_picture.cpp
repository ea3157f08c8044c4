#include "paint/photo_picture.hpp"

#include <cairo.h>

#include <memory>

#include "paint/cairo_painter.hpp"

namespace padchart::paint {
namespace {

using scene::Role;

constexpr int kLargest_px = 16000;

struct DestroySurface {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
struct DestroyContext {
    void operator()(cairo_t* context) const { cairo_destroy(context); }
};
using Surface = std::unique_ptr<cairo_surface_t, DestroySurface>;
using Context = std::unique_ptr<cairo_t, DestroyContext>;

/// One 32-bit word a pixel, as the library keeps it whatever the machine's byte order.
void copy(const Pixels& photo, cairo_surface_t* surface) {
    cairo_surface_flush(surface);
    const int stride = cairo_image_surface_get_stride(surface) / 4;
    auto* words = reinterpret_cast<std::uint32_t*>(cairo_image_surface_get_data(surface)); // NOLINT: aligned by cairo
    for (int y = 0; y < photo.height; ++y)
        for (int x = 0; x < photo.width; ++x) {
            const std::uint8_t* p = photo.at(x, y);
            words[y * stride + x] = static_cast<std::uint32_t>(p[0]) << 16U | static_cast<std::uint32_t>(p[1]) << 8U |
                                    static_cast<std::uint32_t>(p[2]);
        }
    cairo_surface_mark_dirty(surface);
}

} // namespace

Theme over_photo(const Theme& theme, std::uint8_t alpha) {
    Theme out = theme;
    const auto style = [&](Role role) -> Style& { return out.styles[static_cast<std::size_t>(role)]; };
    for (const Role ground : {Role::Board, Role::CutOut})
        style(ground).fill.reset();
    if (alpha == 255) return out;
    for (const Role covered : {Role::PadCopper, Role::PadMissing, Role::Body, Role::SensitiveBody, Role::FarSide})
        if (auto& fill = style(covered).fill) {
            fill->a = alpha;
            if (alpha == 0) fill.reset();
        }
    // Zones keep their edges: a hatch over the whole board would leave little of the photo.
    for (const Role zone : {Role::NoAim, Role::Depends, Role::StaleZone}) {
        style(zone).fill.reset();
        style(zone).hatch = {};
    }
    for (const Role marked : {Role::KeepOut, Role::Shield})
        style(marked).fill.reset();
    return out;
}

Result<void> write_over_photo(const Pixels& photo, const scene::Scene& scene, double px, const Theme& theme,
                              const std::string& path) {
    if (photo.width > kLargest_px || photo.height > kLargest_px)
        return Error{"A picture must be at most 16,000 px wide and high.", path};
    const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, photo.width, photo.height));
    if (cairo_surface_status(surface.get()) != CAIRO_STATUS_SUCCESS)
        return Error{"There is no memory for a picture of this size.", path};
    copy(photo, surface.get());
    const Context context(cairo_create(surface.get()));
    Camera camera;
    camera.px = px;
    if (Result<void> drawn = draw(context.get(), scene, camera, over_photo(theme, 50)); !drawn) return drawn;
    if (cairo_surface_write_to_png(surface.get(), path.c_str()) != CAIRO_STATUS_SUCCESS)
        return Error{"The picture cannot be written; is the folder there?", path};
    return {};
}

} // namespace padchart::paint
