#include "analysis/photo_file.hpp"

#include <doctest/doctest.h>

#include <string>
#include <string_view>

using namespace padchart;
using namespace std::string_literals;
using namespace std::string_view_literals;
using analysis::PhotoFormat;
using analysis::read_photo_header;

namespace {

// Written by hand after the standards named in the header; not cut out of any picture.
const std::string kPng = "\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x02\x80\0\0\x01\xe0\x08\x02\0\0\0"s;

std::string jpeg(const std::string& before, char frame = '\xc0') {
    // Frame header: length 17, 8 bits, 480 lines, 640 samples a line, 3 components.
    return "\xff\xd8"s + before + "\xff" + frame + "\0\x11\x08\x01\xe0\x02\x80\x03"s + std::string(9, '\x01');
}

/// Exif with one entry: orientation, a short.
std::string exif(char value, bool little) {
    const std::string big_end = "MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0"s + value + "\0\0\0\0\0\0"s;
    const std::string little_end = "II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0"s + value + "\0\0\0\0\0\0\0"s;
    const std::string body = "Exif\0\0"s + (little ? little_end : big_end);
    return "\xff\xe1"s + '\0' + static_cast<char>(body.size() + 2) + body;
}

bool has(const Diagnostics& findings, std::string_view code) {
    for (const Diagnostic& finding : findings)
        if (finding.code == code) return true;
    return false;
}

} // namespace

TEST_CASE("the size of a PNG is read from its header") {
    const auto header = read_photo_header(kPng);
    REQUIRE(header);
    CHECK(header->format == PhotoFormat::Png);
    CHECK(header->width == 640);
    CHECK(header->height == 480);
}

TEST_CASE("the size of a JPEG is read from its frame header whatever comes before") {
    const std::string comment = "\xff\xfe\0\x06\xff\xc0!!"s; // looks like a frame, is a comment
    for (const std::string& before : {std::string(), comment, "\xff\xff\xff"s + comment.substr(1), exif(1, false)})
        for (const char frame : {'\xc0', '\xc2'}) {
            const auto header = read_photo_header(jpeg(before, frame));
            REQUIRE(header);
            CHECK(header->format == PhotoFormat::Jpeg);
            CHECK(header->width == 640);
            CHECK(header->height == 480);
            CHECK(header->orientation == 1);
        }
}

TEST_CASE("a picture that is stored turned says so in either byte order") {
    CHECK(read_photo_header(jpeg(exif(6, false)))->orientation == 6);
    CHECK(read_photo_header(jpeg(exif(8, true)))->orientation == 8);
    CHECK(read_photo_header(jpeg(exif(77, true)))->orientation == 1);
}

TEST_CASE("files that are cut off anywhere are refused and read no further") {
    const std::string whole = jpeg(exif(6, true));
    // Up to the last of the size bytes: marker, length, precision, lines and samples are 9 bytes of 19.
    for (std::size_t length = 0; length < whole.size() - 10; ++length)
        CHECK_FALSE(read_photo_header(std::string_view(whole).substr(0, length)));
    for (std::size_t length = 0; length < 24; ++length)
        CHECK_FALSE(read_photo_header(std::string_view(kPng).substr(0, length)));
    CHECK_FALSE(read_photo_header("GIF89a"));
    CHECK_FALSE(read_photo_header("\xff\xd8\xff\xda\0\x02"sv));
    CHECK_FALSE(read_photo_header("\xff\xd8\xff\xe0\0\0"sv));
    std::string no_size = kPng;
    no_size[18] = no_size[19] = '\0';
    CHECK_FALSE(read_photo_header(no_size));
}

TEST_CASE("the checksum is FNV-1a of 64 bits") {
    // Test vectors of the authors' own list (Fowler, Noll and Vo), from memory.
    CHECK(analysis::photo_checksum("") == "fnv1a64:cbf29ce484222325");
    CHECK(analysis::photo_checksum("a") == "fnv1a64:af63dc4c8601ec8c");
    CHECK(analysis::photo_checksum("foobar") == "fnv1a64:85944171f73967e8");
}

TEST_CASE("a photo that does not lie in the chart's folder is a finding") {
    document::Photo photo;
    photo.id = {"p1"};
    photo.board_from_pixel = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    for (const char* path : {"top.png", "photos/top.png", "./a/../top.png", "..top.png", "a/b/../../c.png"}) {
        photo.path = path;
        CHECK_FALSE(analysis::lies_elsewhere(photo));
        CHECK(analysis::photo_findings(photo, kPng).empty());
    }
    for (const char* path : {"/home/top.png", "../top.png", "a/../../top.png", "C:\\top.png", "\\\\host\\top.png"}) {
        photo.path = path;
        CHECK(analysis::lies_elsewhere(photo));
        CHECK(has(analysis::photo_findings(photo, kPng), "photo-elsewhere"));
    }
}

TEST_CASE("a photo that is missing or changed or not placed is a finding") {
    document::Photo photo;
    photo.id = {"p1"};
    photo.path = "top.png";
    photo.checksum = analysis::photo_checksum(kPng);
    photo.board_from_pixel = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    CHECK(analysis::photo_findings(photo, kPng).empty());
    CHECK(has(analysis::photo_findings(photo, std::nullopt), "photo-missing"));
    CHECK(has(analysis::photo_findings(photo, kPng + "more"), "photo-changed"));
    CHECK(has(analysis::photo_findings(photo, "text"), "photo-unreadable"));
    photo.board_from_pixel.clear();
    CHECK(has(analysis::photo_findings(photo, kPng), "photo-not-placed"));
    photo.checksum.clear();
    CHECK(has(analysis::photo_findings(photo, jpeg(exif(6, true))), "photo-turned"));
}

TEST_CASE("records that rest on a photo that is missing or another file are told by the part's name") {
    document::Chart chart;
    document::Photo photo;
    photo.id = document::Id{"ph"};
    photo.path = "pic.png";
    photo.checksum = analysis::photo_checksum(kPng);
    chart.photos.add(photo);
    document::Footprint part;
    part.id = document::Id{"u1"};
    part.name = "U1";
    part.orientation.state = document::RecordState::Recorded;
    part.orientation.evidence.photo = photo.id;
    chart.parts.add(part);
    part.id = document::Id{"u2"};
    part.name = "U2";
    part.orientation.evidence.photo = {};
    chart.parts.add(part);
    CHECK(analysis::lost_records(chart, photo, analysis::photo_facts(kPng)).empty());
    const Diagnostics missing = analysis::lost_records(chart, photo, analysis::photo_facts(std::nullopt));
    REQUIRE(missing.size() == 1);
    CHECK(missing[0].target == "u1");
    CHECK(missing[0].message.starts_with("The record of which way U1 sits rests on pic.png, which is not there."));
    const Diagnostics other = analysis::lost_records(chart, photo, analysis::photo_facts(kPng + "more"));
    REQUIRE(other.size() == 1);
    CHECK(other[0].message.find("which is not the file it was when it was placed") != std::string::npos);
}
