#pragma once
// What a person said layers and shapes of traces are, kept for the next import in a small text file of their own: one
// line each, "role<TAB>side<TAB>what it is remembered by<TAB>file it was said of", '-' where nothing was said. Newest
// last.

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "svg/trace_to_chart.hpp"

namespace padchart::app {

struct RememberedMeaning {
    svg::ShapeMeaning meaning;
    std::string file; ///< of the trace it was said of; empty: not known
};

class MeaningMemory {
public:
    static constexpr std::size_t kMost = 10'000; ///< older ones are forgotten

    /// Null where nothing was said. Case and blanks at the ends do not matter.
    [[nodiscard]] const RememberedMeaning* find(std::string_view what) const;
    /// All that is remembered by words that begin so, as they were written. Requires: small letters.
    [[nodiscard]] std::vector<std::pair<std::string, RememberedMeaning>> beginning_with(std::string_view start) const;
    /// A meaning that says nothing forgets.
    void set(std::string_view what, const svg::ShapeMeaning& meaning, std::string_view file = {});
    [[nodiscard]] std::size_t size() const { return entries_.size(); }

    [[nodiscard]] std::string text() const;
    /// Lines that cannot be read are passed over.
    [[nodiscard]] static MeaningMemory from_text(std::string_view text);

private:
    struct Entry {
        std::string what; ///< as it was written
        RememberedMeaning known;
        std::uint64_t said = 0; ///< the larger the newer
    };
    /// By `what` in small letters: every shape of a large trace is looked up.
    std::unordered_map<std::string, Entry> entries_;
    std::uint64_t last_said_ = 0;
};

/// In the user's config folder; empty where there is none, and then nothing is kept.
[[nodiscard]] std::filesystem::path meaning_file();
/// A file that is not there is an empty memory.
[[nodiscard]] MeaningMemory load_meanings(const std::filesystem::path& file);
[[nodiscard]] Result<void> save_meanings(const MeaningMemory& memory, const std::filesystem::path& file);

} // namespace padchart::app
