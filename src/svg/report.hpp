#pragma once
// Collects findings with their place in the text. A drawing with a fault in every one of its shapes gives the first few
// of each kind and a count, not a million lines.

#include <map>
#include <string>
#include <string_view>

#include "base/diagnostic.hpp"
#include "svg/text_position.hpp"

namespace padchart::svg {

class Report {
public:
    Report(const TextPositions& positions, const OriginMap& origins) : positions_(positions), origins_(origins) {}

    static constexpr int kMaxOfAKind = 100;

    /// `offset` in the text the parser read; negative: no place.
    void add(Severity severity, std::string_view code, std::string message, std::ptrdiff_t offset);
    [[nodiscard]] TextPosition position(std::ptrdiff_t offset) const;
    /// An empty one about the same text.
    [[nodiscard]] Report fresh() const { return {positions_, origins_}; }
    /// Adds what another found further on in the text, as if it had been found here.
    void append(const Report& later);
    /// The findings, with a last one for each kind that was cut off.
    [[nodiscard]] Diagnostics take();

private:
    const TextPositions& positions_;
    const OriginMap& origins_;
    Diagnostics diagnostics_;
    std::map<std::string, int, std::less<>> counts_;
};

} // namespace padchart::svg
