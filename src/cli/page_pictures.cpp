#include "cli/page_pictures.hpp"

#include "cli/photo_pictures.hpp"
#include "paint/photo_write.hpp"

namespace padchart::cli {
namespace {

constexpr int kQuality = 80;

} // namespace

std::vector<page::EvidenceJpeg> evidence_for_page(const document::Chart& chart,
                                                  const std::filesystem::path& chart_file) {
    std::vector<page::EvidenceJpeg> out;
    for (const scene::EvidencePicture& one : evidence_pictures(chart, chart_file))
        if (Result<std::string> jpeg = paint::jpeg_of(one.picture, kQuality))
            out.push_back({one.part, one.picture.width, one.picture.height, std::move(*jpeg)});
    return out;
}

std::vector<page::BoardPicture> photos_for_page(const document::Chart& chart, const std::filesystem::path& chart_file) {
    std::vector<page::BoardPicture> out;
    for (const BoardPhoto& photo : board_photos(chart, chart_file))
        if (Result<std::string> jpeg = paint::jpeg_of(photo.picture, kQuality))
            out.push_back({photo.side, photo.box, std::move(*jpeg), photo.name});
    return out;
}

} // namespace padchart::cli
