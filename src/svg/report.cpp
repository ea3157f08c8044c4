#include "svg/report.hpp"

#include <algorithm>

namespace padchart::svg {

TextPosition Report::position(std::ptrdiff_t offset) const {
    return positions_.at(origin_of(origins_, static_cast<std::size_t>(offset)));
}

void Report::add(Severity severity, std::string_view code, std::string message, std::ptrdiff_t offset) {
    auto found = counts_.find(code);
    if (found == counts_.end()) found = counts_.emplace(std::string(code), 0).first;
    if (++found->second > kMaxOfAKind) return;
    std::string where;
    if (offset >= 0) {
        const TextPosition at = position(offset);
        where = std::to_string(at.line) + ":" + std::to_string(at.column);
    }
    diagnostics_.push_back({severity, std::string(code), std::move(message), std::move(where), {}});
}

void Report::append(const Report& later) {
    for (const Diagnostic& diagnostic : later.diagnostics_)
        if (++counts_[diagnostic.code] <= kMaxOfAKind) diagnostics_.push_back(diagnostic);
    for (const auto& [code, count] : later.counts_)
        counts_[code] += std::max(0, count - kMaxOfAKind);
}

Diagnostics Report::take() {
    for (const auto& [code, count] : counts_)
        if (count > kMaxOfAKind)
            diagnostics_.push_back(
                {Severity::Warning,
                 code,
                 std::to_string(count - kMaxOfAKind) + " more findings of this kind (" + code + ") are not listed",
                 {},
                 {}});
    return std::move(diagnostics_);
}

} // namespace padchart::svg
