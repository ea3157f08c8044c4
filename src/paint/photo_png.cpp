// PNG through libpng: rows in order where the file allows it.

#include <array>
#include <cstring>
#include <optional>

#include <png.h>

#include "paint/photo_jump.hpp"
#include "paint/photo_rows.hpp"

namespace padchart::paint {
namespace {

/// Everything that lives across a jump out of the library.
struct Reading {
    png_structp png = nullptr;
    png_infop info = nullptr;
    std::jmp_buf on_error{};
    std::array<char, 200> message{};
    std::string_view rest;
    const std::stop_token* stop = nullptr;
    bool is_stopped = false;
    PhotoSize size;
    int passes = 1;
    std::optional<RowReducer> rows;
    std::vector<std::uint8_t> buffer;
    std::string refused;

    ~Reading() { png_destroy_read_struct(&png, &info, nullptr); }
};

[[noreturn]] void leave(png_structp png, png_const_charp message) {
    Reading& reading = *static_cast<Reading*>(png_get_error_ptr(png));
    std::strncpy(reading.message.data(), message, reading.message.size() - 1);
    std::longjmp(reading.on_error, 1);
}

void give(png_structp png, png_bytep to, std::size_t count) {
    std::string_view& rest = *static_cast<std::string_view*>(png_get_io_ptr(png));
    if (count > rest.size()) png_error(png, "the file is cut off");
    std::memcpy(to, rest.data(), count);
    rest.remove_prefix(count);
}

bool is_stopped(Reading& reading) {
    reading.is_stopped = reading.is_stopped || reading.stop->stop_requested();
    return reading.is_stopped;
}

/// As they are read: four a pixel.
std::size_t bytes_in_row(const Reading& reading) {
    return 4 * static_cast<std::size_t>(reading.size.width);
}

/// Every kind of pixel becomes red, green, blue and how opaque it is, 8 bits each.
void wants_rgba(Reading& reading) {
    png_set_expand(reading.png);
    png_set_scale_16(reading.png);
    png_set_gray_to_rgb(reading.png);
    png_set_add_alpha(reading.png, 0xff, PNG_FILLER_AFTER);
    reading.passes = png_set_interlace_handling(reading.png);
}

[[gnu::noinline]] void read_head(Reading& reading) {
    reading.info = png_create_info_struct(reading.png);
    png_set_read_fn(reading.png, &reading.rest, give);
    // Texts and profiles mean nothing here, and unpacking them can be made to last.
    png_set_keep_unknown_chunks(reading.png, PNG_HANDLE_CHUNK_NEVER, nullptr, -1);
    png_set_user_limits(reading.png, 0x7fffffff, 0x7fffffff);
    png_read_info(reading.png, reading.info);
    const auto width = png_get_image_width(reading.png, reading.info);
    const auto height = png_get_image_height(reading.png, reading.info);
    reading.refused = refusal_of(width, height);
    if (reading.refused.empty()) reading.size = {static_cast<int>(width), static_cast<int>(height)};
}

[[gnu::noinline]] void start_rows(Reading& reading) {
    wants_rgba(reading);
    png_read_update_info(reading.png, reading.info);
}

[[gnu::noinline]] void read_in_order(Reading& reading) {
    for (int y = 0; y < reading.size.height; ++y) {
        if (is_stopped(reading)) return;
        png_read_row(reading.png, reading.buffer.data(), nullptr);
        reading.rows->add_rgba(reading.buffer.data());
    }
}

/// Interlaced: the whole picture comes seven times, finer each time.
[[gnu::noinline]] void read_passes(Reading& reading) {
    for (int pass = 0; pass < reading.passes; ++pass)
        for (std::size_t y = 0; y < static_cast<std::size_t>(reading.size.height); ++y) {
            if (is_stopped(reading)) return;
            png_read_row(reading.png, nullptr, reading.buffer.data() + y * bytes_in_row(reading));
        }
}

/// False where it left by a jump.
bool read_rows(Reading& reading) {
    const std::size_t wide = bytes_in_row(reading);
    if (reading.passes == 1) {
        reading.buffer.resize(wide);
        return reaches_end(reading, read_in_order);
    }
    reading.buffer.assign(wide * static_cast<std::size_t>(reading.size.height), 255);
    const bool whole = reaches_end(reading, read_passes);
    for (std::size_t y = 0; y < static_cast<std::size_t>(reading.size.height) && !reading.is_stopped; ++y)
        reading.rows->add_rgba(reading.buffer.data() + y * wide);
    return whole;
}

Error error_of(const Reading& reading) {
    return {"is a PNG that cannot be read: " + std::string(reading.message.data()), {}};
}

} // namespace

Result<DecodedPhoto> decode_png(std::string_view bytes, std::size_t most_bytes, const std::stop_token& stop) {
    Reading reading;
    reading.rest = bytes;
    reading.stop = &stop;
    reading.png = png_create_read_struct(PNG_LIBPNG_VER_STRING, &reading, leave, [](png_structp, png_const_charp) {});
    if (reading.png == nullptr || !reaches_end(reading, read_head)) return error_of(reading);
    if (!reading.refused.empty()) return Error{reading.refused, {}};
    if (!reaches_end(reading, start_rows)) return error_of(reading);
    const std::size_t whole_bytes = bytes_in_row(reading) * static_cast<std::size_t>(reading.size.height);
    if (reading.passes > 1 && whole_bytes > kMostBeside)
        return Error{"is a large interlaced PNG; right would be one without interlace, or a JPEG", {}};
    DecodedPhoto photo;
    photo.full = reading.size;
    photo.reduced_by = levels_to_fit(reading.size, most_bytes);
    reading.rows.emplace(reading.size, photo.reduced_by);
    const bool whole = read_rows(reading);
    if (reading.is_stopped) return Error{"stopped", {}};
    if (!whole && reading.rows->rows_so_far() == 0) return error_of(reading);
    photo.pixels = reading.rows->finish();
    if (!whole) photo.cut_short = "is damaged or ends before its picture does: the rest is white";
    return photo;
}

} // namespace padchart::paint
