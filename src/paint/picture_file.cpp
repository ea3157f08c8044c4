#include "paint/picture_file.hpp"

#include <algorithm>
#include <cstdint>
#include <fstream>
#include <system_error>

#include <zlib.h>

#include "base/disk_file.hpp"

namespace padchart::paint {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kSvgMark = "<!-- Written by Padchart. -->\n";
constexpr std::string_view kPngText{"Software\0Padchart", 17};
constexpr std::string_view kPdfMark = "/Creator (Padchart)";
constexpr std::size_t kPngSignature = 8, kPngHeader = 25; // bytes; the header is always the first chunk
constexpr std::size_t kLongestLook = std::size_t{64} << 20U;

std::string big_endian(std::uint32_t number) {
    std::string out;
    for (int shift = 24; shift >= 0; shift -= 8)
        out += static_cast<char>((number >> static_cast<unsigned>(shift)) & 0xFFU);
    return out;
}

std::string text_chunk() {
    const std::string typed = "tEXt" + std::string(kPngText);
    const auto sum = crc32(0, reinterpret_cast<const Bytef*>(typed.data()), static_cast<uInt>(typed.size()));
    return big_endian(static_cast<std::uint32_t>(kPngText.size())) + typed +
           big_endian(static_cast<std::uint32_t>(sum));
}

} // namespace

Result<void> replace_picture(const fs::path& path, std::string_view bytes, const std::stop_token& stop) {
    std::error_code fault;
    const auto not_written = [&path](const std::string& why) {
        return Error{"The file could not be written: " + why + "; look at its folder and the room on the disk.",
                     path.string()};
    };
    if (!fs::exists(path, fault) || fs::is_regular_file(path, fault)) {
        const Result<void> done = replace_file(path, bytes, stop);
        return done || stop.stop_requested() ? done : not_written(done.error().message);
    }
    // A pipe or a device is written into, not replaced.
    std::ofstream out(path, std::ios::binary);
    out << bytes << std::flush;
    return out ? Result<void>() : not_written("it takes no more");
}

std::string marked_svg(std::string svg) {
    const std::size_t line = svg.find('\n');
    return svg.insert(line == std::string::npos ? 0 : line + 1, kSvgMark);
}

std::string marked_png(std::string png) {
    return png.insert(std::min(kPngSignature + kPngHeader, png.size()), text_chunk());
}

bool is_own_picture(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::string bytes(kPngSignature, '\0');
    if (!in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()))) return false;
    const bool is_pdf = bytes.starts_with("%PDF-");
    std::error_code fault;
    const auto size = fs::file_size(path, fault);
    if (fault) return false;
    std::string rest(std::min<std::size_t>(size, is_pdf ? kLongestLook : 1024) - bytes.size(), '\0');
    in.read(rest.data(), static_cast<std::streamsize>(rest.size()));
    bytes += rest;
    if (is_pdf) return bytes.find(kPdfMark) != std::string::npos;
    if (bytes.starts_with("<?xml")) return bytes.find(kSvgMark) != std::string::npos;
    return bytes.starts_with("\x89PNG") && bytes.find("tEXt" + std::string(kPngText)) != std::string::npos;
}

} // namespace padchart::paint
