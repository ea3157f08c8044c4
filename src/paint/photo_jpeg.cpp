// JPEG through libjpeg: rows in order, reduced while they are decoded where that is enough.

#include <array>
#include <cstdio> // jpeglib.h wants FILE
#include <optional>

#include <jpeglib.h>

#include "paint/photo_jump.hpp"
#include "paint/photo_rows.hpp"

namespace padchart::paint {
namespace {

/// A progressive picture has about ten scans; a file made to keep a reader busy has thousands. Common practice.
constexpr int kMostScans = 200;

/// Everything that lives across a jump out of the library.
struct Reading {
    jpeg_decompress_struct jpeg{};
    jpeg_error_mgr errors{};
    jpeg_progress_mgr progress{};
    std::jmp_buf on_error{};
    std::array<char, JMSG_LENGTH_MAX> message{};
    std::string_view bytes;
    std::size_t most_bytes = 0;
    const std::stop_token* stop = nullptr;
    const char* refusal = nullptr;
    int levels = 0;
    std::optional<RowReducer> rows;
    std::vector<std::uint8_t> row;
    std::string refused_size;

    ~Reading() { jpeg_destroy_decompress(&jpeg); }
};

Reading& reading_of(j_common_ptr jpeg) {
    return *static_cast<Reading*>(jpeg->client_data);
}

[[noreturn]] void leave(j_common_ptr jpeg) {
    Reading& reading = reading_of(jpeg);
    jpeg->err->format_message(jpeg, reading.message.data());
    std::longjmp(reading.on_error, 1);
}

void watch(j_common_ptr jpeg) {
    Reading& reading = reading_of(jpeg);
    if (reading.stop->stop_requested()) reading.refusal = "stopped";
    if (reading.jpeg.input_scan_number > kMostScans) reading.refusal = "has more scans than any camera writes";
    if (reading.refusal != nullptr) std::longjmp(reading.on_error, 1);
}

void set_up(Reading& reading) {
    reading.jpeg.err = jpeg_std_error(&reading.errors);
    reading.errors.error_exit = leave;
    reading.errors.output_message = [](j_common_ptr) {};
    reading.jpeg.client_data = &reading;
    jpeg_create_decompress(&reading.jpeg);
    reading.jpeg.client_data = &reading;
    reading.progress.progress_monitor = watch;
    reading.jpeg.progress = &reading.progress;
    reading.jpeg.mem->max_memory_to_use = static_cast<long>(kMostBeside);
    jpeg_mem_src(&reading.jpeg, reinterpret_cast<const unsigned char*>(reading.bytes.data()), reading.bytes.size());
}

/// How much the library reduces by itself: up to eight times.
int levels_in_library(int levels) {
    return std::min(levels, 3);
}

[[gnu::noinline]] void read_head(Reading& reading) {
    set_up(reading);
    jpeg_read_header(&reading.jpeg, TRUE);
    const PhotoSize size{static_cast<int>(reading.jpeg.image_width), static_cast<int>(reading.jpeg.image_height)};
    reading.refused_size = refusal_of(size.width, size.height);
    if (reading.refused_size.empty()) reading.levels = levels_to_fit(size, reading.most_bytes);
}

[[gnu::noinline]] void start_rows(Reading& reading) {
    reading.jpeg.out_color_space = JCS_RGB;
    reading.jpeg.scale_num = 1;
    reading.jpeg.scale_denom = 1U << static_cast<unsigned>(levels_in_library(reading.levels));
    jpeg_start_decompress(&reading.jpeg);
}

[[gnu::noinline]] void read_rows(Reading& reading) {
    while (reading.jpeg.output_scanline < reading.jpeg.output_height) {
        std::uint8_t* row = reading.row.data();
        jpeg_read_scanlines(&reading.jpeg, &row, 1);
        reading.rows->add_rgb(row);
    }
}

Error error_of(const Reading& reading) {
    if (reading.refusal != nullptr) return {reading.refusal, {}};
    if (reading.jpeg.num_components == 4) return {"is a JPEG in printing inks; right would be red, green, blue", {}};
    return {"is a JPEG that cannot be read: " + std::string(reading.message.data()), {}};
}

} // namespace

Result<DecodedPhoto> decode_jpeg(std::string_view bytes, std::size_t most_bytes, const std::stop_token& stop) {
    Reading reading;
    reading.bytes = bytes;
    reading.most_bytes = most_bytes;
    reading.stop = &stop;
    if (!reaches_end(reading, read_head)) return error_of(reading);
    if (!reading.refused_size.empty()) return Error{reading.refused_size, {}};
    if (!reaches_end(reading, start_rows)) return error_of(reading);
    const PhotoSize rows{static_cast<int>(reading.jpeg.output_width), static_cast<int>(reading.jpeg.output_height)};
    reading.rows.emplace(rows, reading.levels - levels_in_library(reading.levels));
    reading.row.resize(3 * static_cast<std::size_t>(rows.width));
    const bool whole = reaches_end(reading, read_rows);
    if (!whole && (reading.refusal != nullptr || reading.rows->rows_so_far() == 0)) return error_of(reading);
    DecodedPhoto photo;
    photo.full = {static_cast<int>(reading.jpeg.image_width), static_cast<int>(reading.jpeg.image_height)};
    photo.reduced_by = reading.levels;
    photo.pixels = reading.rows->finish();
    if (!whole || reading.errors.num_warnings > 0)
        photo.cut_short = "is damaged or ends before its picture does: some of it is missing";
    return photo;
}

} // namespace padchart::paint
