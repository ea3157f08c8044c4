#include "analysis/photo_header.hpp"

#include <cstdint>
#include <string>

namespace padchart::analysis {
namespace {

using namespace std::string_view_literals;

constexpr std::string_view kPngStart = "\x89PNG\r\n\x1a\n"sv;

/// Bytes read in order, big end first unless told otherwise; past the end everything is zero and `cut` is set.
struct Bytes {
    std::string_view all;
    bool little = false;
    bool cut = false;

    std::uint32_t read(std::size_t at, std::size_t count) {
        if (at > all.size() || count > all.size() - at) {
            cut = true;
            return 0;
        }
        std::uint32_t value = 0;
        for (std::size_t i = 0; i < count; ++i) {
            const std::size_t from = little ? at + count - 1 - i : at + i;
            value = value << 8U | static_cast<unsigned char>(all[from]);
        }
        return value;
    }
};

Result<PhotoHeader> png_header(std::string_view bytes) {
    Bytes in{bytes};
    const std::uint32_t width = in.read(16, 4);
    const std::uint32_t height = in.read(20, 4);
    if (in.cut || bytes.substr(12, 4) != "IHDR" || width == 0 || height == 0 || width > 0x7fffffffU ||
        height > 0x7fffffffU)
        return Error{"is a PNG without a proper size: cut off or damaged", {}};
    return PhotoHeader{PhotoFormat::Png, static_cast<int>(width), static_cast<int>(height), 1};
}

/// The orientation of an Exif segment (its bytes after "Exif\0\0"), 1 where it says nothing sensible.
int exif_orientation(std::string_view tiff) {
    Bytes in{tiff};
    in.little = tiff.starts_with("II");
    const std::size_t directory = in.read(4, 4);
    const std::uint32_t entries = in.read(directory, 2);
    for (std::size_t i = 0; i < entries && !in.cut; ++i) {
        const std::size_t entry = directory + 2 + 12 * i;
        if (in.read(entry, 2) != 274) continue;
        const std::uint32_t value = in.read(entry + 8, 2);
        return value >= 1 && value <= 8 ? static_cast<int>(value) : 1;
    }
    return 1;
}

bool is_frame(unsigned marker) {
    return marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc;
}

bool stands_alone(unsigned marker) {
    return marker == 0x01 || (marker >= 0xd0 && marker <= 0xd8);
}

Result<PhotoHeader> jpeg_header(std::string_view bytes) {
    const Error fault{"is a JPEG without a proper size: cut off or damaged", {}};
    PhotoHeader header;
    Bytes in{bytes};
    std::size_t at = 2;
    for (;;) {
        if (in.read(at, 1) != 0xff || in.cut) return fault;
        while (in.read(at, 1) == 0xff)
            ++at; // any number of fill bytes may precede a marker
        const unsigned marker = in.read(at++, 1);
        if (in.cut || marker == 0xd9 || marker == 0xda) return fault; // picture data before any frame header
        if (stands_alone(marker)) continue;
        const std::uint32_t length = in.read(at, 2);
        if (in.cut || length < 2) return fault;
        if (is_frame(marker)) {
            header.height = static_cast<int>(in.read(at + 3, 2));
            header.width = static_cast<int>(in.read(at + 5, 2));
            if (in.cut || header.width == 0 || header.height == 0) return fault;
            return header;
        }
        if (marker == 0xe1 && bytes.substr(at + 2, 6) == "Exif\0\0"sv && length > 8)
            header.orientation = exif_orientation(bytes.substr(at + 8, length - 8));
        at += length;
    }
}

} // namespace

Result<PhotoHeader> read_photo_header(std::string_view bytes) {
    if (bytes.starts_with(kPngStart)) return png_header(bytes);
    if (bytes.starts_with("\xff\xd8"sv)) return jpeg_header(bytes);
    return Error{"is neither a JPEG nor a PNG picture", {}};
}

} // namespace padchart::analysis
