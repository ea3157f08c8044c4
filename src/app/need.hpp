#pragma once
// What has to be so before an action can run, and in a few words what to do where it is not.

#include <functional>
#include <string_view>

namespace padchart::app {

struct Session;

class Need {
public:
    /// Nothing at all.
    Need() = default;
    /// `otherwise`: "select a part".
    Need(std::function<bool(const Session&)> holds, std::string_view otherwise)
        : missing_([holds = std::move(holds), otherwise](const Session& s) {
              return holds(s) ? std::string_view() : otherwise;
          }) {}

    /// What is to be done first; empty where the action can run.
    [[nodiscard]] std::string_view missing(const Session& s) const {
        return missing_ ? missing_(s) : std::string_view();
    }
    [[nodiscard]] bool operator()(const Session& s) const { return missing(s).empty(); }

    /// This one first, then the other, which may rely on it.
    [[nodiscard]] Need and_then(Need other) const {
        Need both;
        both.missing_ = [first = *this, other = std::move(other)](const Session& s) {
            const std::string_view lacks = first.missing(s);
            return lacks.empty() ? other.missing(s) : lacks;
        };
        return both;
    }

private:
    std::function<std::string_view(const Session&)> missing_;
};

inline const Need always;

} // namespace padchart::app
