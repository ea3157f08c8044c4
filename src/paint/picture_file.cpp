#include "paint/picture_file.hpp"

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <system_error>

#include <zlib.h>

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

Error not_written(const fs::path& path, const std::string& why) {
    return {"The file could not be written: " + why + "; look at its folder and the room on the disk.", path.string()};
}

Result<void> write(const fs::path& file, const fs::path& named, std::string_view bytes) {
    std::ofstream out(file, std::ios::binary | std::ios::trunc);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out) return not_written(named, std::strerror(errno));
    return {};
}

} // namespace

Result<void> replace_picture(const fs::path& path, std::string_view bytes) {
    std::error_code fault;
    const bool is_there = fs::exists(path, fault);
    // A pipe or a device is written into, not replaced.
    if (is_there && !fs::is_regular_file(path, fault)) return write(path, path, bytes);
    const fs::path file = is_there ? fs::canonical(path, fault) : path; // through links
    fs::path beside = file;
    beside += ".part";
    if (Result<void> written = write(beside, path, bytes); !written) {
        fs::remove(beside, fault);
        return written;
    }
    fs::rename(beside, file, fault);
    if (!fault) return {};
    const std::string why = fault.message();
    fs::remove(beside, fault);
    return not_written(path, why);
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
