#pragma once
// Charts and pointers for the tests of the window's inner parts.

#include <cstdlib>
#include <filesystem>
#include <optional>
#include <string>

#include <doctest/doctest.h>

#include "app/editor.hpp"
#include "app/session.hpp"
#include "document/edits.hpp"
#include "patterns/family.hpp"

namespace padchart::app {

/// A part of the family at a place of the top side, id and name given.
inline document::Footprint part_of(const char* family, const char* name, geometry::Vec2 at,
                                   document::Side side = document::Side::Top) {
    document::Footprint part = patterns::generate(family).value();
    part.id = document::Id{name};
    for (char& c : part.id.text)
        c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    part.name = name;
    part.placement = {at, Angle(), side};
    return part;
}

/// An empty chart whose scale is right within 2 %.
inline document::Chart measured_chart() {
    document::Chart chart = new_chart();
    chart.scale->source = document::ScaleSource::DocumentUnits;
    chart.scale->relative_uncertainty = 0.02;
    chart.scale->note = "page";
    return chart;
}

/// Three chips in a row at x = 0, 5 and 10 mm, and one below the board at x = 5.
inline document::Chart row_of_chips() {
    document::Chart chart = measured_chart();
    for (const auto& [name, x] : {std::pair{"R1", 0.0}, {"R2", 5.0}, {"R3", 10.0}})
        chart = document::add_part(chart, part_of("chip-1608M", name, {x, 0})).value();
    return document::add_part(chart, part_of("chip-1608M", "R9", {5, 3}, document::Side::Bottom)).value();
}

inline const document::Footprint& part_named(const document::Chart& chart, const char* name) {
    const auto at = document::find_part_named(chart, name);
    REQUIRE(at);
    return chart.parts[*at];
}

/// A folder that goes away with the test.
class ScratchFolder {
public:
    ScratchFolder() {
        std::string name = (std::filesystem::temp_directory_path() / "padchart-test-XXXXXX").string();
        REQUIRE(mkdtemp(name.data()) != nullptr);
        path_ = name;
    }
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    ~ScratchFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

/// What the program remembers goes into a folder of the test's own.
class OwnConfig {
public:
    OwnConfig() {
        if (const char* set = std::getenv("XDG_CONFIG_HOME")) before_ = set;
        setenv("XDG_CONFIG_HOME", folder_.path().c_str(), 1);
    }
    OwnConfig(const OwnConfig&) = delete;
    OwnConfig& operator=(const OwnConfig&) = delete;
    ~OwnConfig() {
        if (before_)
            setenv("XDG_CONFIG_HOME", before_->c_str(), 1);
        else
            unsetenv("XDG_CONFIG_HOME");
    }

private:
    ScratchFolder folder_;
    std::optional<std::string> before_;
};

} // namespace padchart::app
