#include "paint/photo_write.hpp"

#include <array>
#include <csetjmp>
#include <cstdio> // jpeglib.h wants FILE
#include <cstdlib>

#include <jpeglib.h>

#include "paint/photo_jump.hpp"

namespace padchart::paint {
namespace {

/// Everything that lives across a jump out of the library.
struct Writing {
    jpeg_compress_struct jpeg{};
    jpeg_error_mgr errors{};
    std::jmp_buf on_error{};
    std::array<char, JMSG_LENGTH_MAX> message{};
    const scene::Picture* picture = nullptr;
    int quality = 80;
    unsigned char* bytes = nullptr; ///< the library's own memory
    unsigned long size = 0;

    Writing() = default;
    Writing(const Writing&) = delete;
    Writing& operator=(const Writing&) = delete;
    ~Writing() {
        jpeg_destroy_compress(&jpeg);
        std::free(bytes); // NOLINT: the library takes it with malloc
    }
};

[[noreturn]] void leave(j_common_ptr jpeg) {
    auto& writing = *static_cast<Writing*>(jpeg->client_data);
    jpeg->err->format_message(jpeg, writing.message.data());
    std::longjmp(writing.on_error, 1);
}

[[gnu::noinline]] void write_all(Writing& writing) {
    jpeg_compress_struct& jpeg = writing.jpeg;
    jpeg.err = jpeg_std_error(&writing.errors);
    writing.errors.error_exit = leave;
    writing.errors.output_message = [](j_common_ptr) {};
    jpeg.client_data = &writing;
    jpeg_create_compress(&jpeg);
    jpeg.client_data = &writing;
    jpeg_mem_dest(&jpeg, &writing.bytes, &writing.size);
    jpeg.image_width = static_cast<JDIMENSION>(writing.picture->width);
    jpeg.image_height = static_cast<JDIMENSION>(writing.picture->height);
    jpeg.input_components = 3;
    jpeg.in_color_space = JCS_RGB;
    jpeg_set_defaults(&jpeg);
    jpeg_set_quality(&jpeg, writing.quality, TRUE);
    jpeg_start_compress(&jpeg, TRUE);
    const std::size_t row = 3 * static_cast<std::size_t>(writing.picture->width);
    while (jpeg.next_scanline < jpeg.image_height) {
        // The library only reads it.
        auto* data = const_cast<std::uint8_t*>(writing.picture->rgb.data() + row * jpeg.next_scanline); // NOLINT
        jpeg_write_scanlines(&jpeg, &data, 1);
    }
    jpeg_finish_compress(&jpeg);
}

} // namespace

Result<std::string> jpeg_of(const scene::Picture& picture, int quality) {
    if (picture.is_empty()) return Error{"there is no picture to write", {}};
    Writing writing;
    writing.picture = &picture;
    writing.quality = quality;
    if (!reaches_end(writing, write_all)) return Error{writing.message.data(), {}};
    return std::string(reinterpret_cast<const char*>(writing.bytes), writing.size);
}

} // namespace padchart::paint
