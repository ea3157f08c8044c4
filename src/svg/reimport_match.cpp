#include "svg/reimport_match.hpp"

#include <algorithm>
#include <map>
#include <tuple>

#include "geometry/box_index.hpp"
#include "svg/trace_names.hpp"

namespace padchart::svg {
namespace {

using geometry::Box;

/// A thing found by its place may have grown or shrunk by this factor.
constexpr double kAlike = 1.5;
/// ... and lie off by this share of its shorter side, but by this much in any case: a hand's jitter.
constexpr double kOffShare = 0.5;
constexpr double kOff = 0.2;

double centre_distance(const Token& a, const Token& b) {
    if (a.box.is_empty() || b.box.is_empty()) return a.box.is_empty() == b.box.is_empty() ? 0.0 : 1e9;
    return geometry::distance(a.box.centre(), b.box.centre());
}

bool counts_only(const std::string& key) {
    return key.find(':') != std::string::npos;
}

double longer(const Box& box) {
    return std::max(box.width(), box.height());
}
double shorter(const Box& box) {
    return std::min(box.width(), box.height());
}

/// As many pads and as large, whichever way it lies, no farther off than it is long, and not of another name.
bool same_thing_near(const Token& a, const Token& b) {
    constexpr double kSame = 0.1;
    const double reach = longer(a.box);
    return a.pads == b.pads && (a.name.empty() || b.name.empty()) && a.pads > 0 &&
           std::abs(longer(a.box) - longer(b.box)) <= kSame * reach &&
           std::abs(shorter(a.box) - shorter(b.box)) <= kSame * reach &&
           geometry::distance(a.box.centre(), b.box.centre()) <= reach;
}

bool same_place(const Token& a, const Token& b) {
    if (a.box.is_empty() || b.box.is_empty()) return false;
    const double ratio = longer(a.box) / longer(b.box);
    if (!(ratio < kAlike && ratio > 1.0 / kAlike)) return false;
    const double gate = std::max(kOff, kOffShare * std::min(shorter(a.box), shorter(b.box)));
    return geometry::distance(a.box.centre(), b.box.centre()) <= gate;
}

/// A part's key is its name, on the bottom with a word behind, or the way through the groups to its first shape.
std::string name_in_trace(const document::Footprint& part) {
    if (part.trace_key.empty()) return part.name;
    if (part.trace_key.find_first_of(":/") != std::string::npos || is_generated_id(part.trace_key)) return {};
    return part.trace_key.substr(0, part.trace_key.find("@bottom"));
}

class Matcher {
public:
    Matcher(std::span<const Token> current, std::span<const Token> fresh)
        : current_(current), fresh_(fresh), partner_(current.size()), taken_(fresh.size(), false) {}

    std::vector<std::optional<Partner>> run() {
        by_key(false);
        by_id();
        by_last_step();
        by_name_across();
        by_place(Sides::Same);
        by_key(true);
        by_size();
        by_place(Sides::Other);
        return std::move(partner_);
    }

private:
    enum class Sides { Same, Other };

    struct Candidate {
        double distance = 0.0;
        std::size_t current = 0;
        std::size_t fresh = 0;
        auto order() const { return std::tuple(distance, current, fresh); }
    };

    /// Nearest first; each thing once.
    void settle(std::vector<Candidate> candidates, FoundBy how) {
        std::sort(candidates.begin(), candidates.end(),
                  [](const Candidate& a, const Candidate& b) { return a.order() < b.order(); });
        for (const Candidate& candidate : candidates) {
            if (partner_[candidate.current] || taken_[candidate.fresh]) continue;
            partner_[candidate.current] = Partner{candidate.fresh, how};
            taken_[candidate.fresh] = true;
        }
    }

    void propose(std::size_t c, std::size_t f, std::vector<Candidate>& candidates, Sides sides = Sides::Same) const {
        if (partner_[c] || taken_[f] || (current_[c].side == fresh_[f].side) != (sides == Sides::Same)) return;
        candidates.push_back({centre_distance(current_[c], fresh_[f]), c, f});
    }

    void by_key(bool counting) {
        std::map<std::string_view, std::vector<std::size_t>> fresh_by_key;
        for (std::size_t f = 0; f < fresh_.size(); ++f)
            if (!fresh_[f].key.empty() && counts_only(fresh_[f].key) == counting)
                fresh_by_key[fresh_[f].key].push_back(f);
        std::vector<Candidate> candidates;
        for (std::size_t c = 0; c < current_.size(); ++c)
            if (const auto found = fresh_by_key.find(current_[c].key); found != fresh_by_key.end())
                for (const std::size_t f : found->second)
                    propose(c, f, candidates);
        settle(std::move(candidates), FoundBy::TraceKey);
    }

    void by_id() {
        std::map<document::Id, std::size_t> fresh_by_id;
        for (std::size_t f = 0; f < fresh_.size(); ++f)
            fresh_by_id.emplace(fresh_[f].id, f);
        std::vector<Candidate> candidates;
        for (std::size_t c = 0; c < current_.size(); ++c)
            if (current_[c].key.empty())
                if (const auto found = fresh_by_id.find(current_[c].id); found != fresh_by_id.end())
                    propose(c, found->second, candidates);
        settle(std::move(candidates), FoundBy::Id);
    }

    /// The drawing, or a layer of it, was put into one more group.
    void by_last_step() {
        by_single([](const Token& token) { return lasting_key(token.key.empty() ? token.name : token.key); },
                  Sides::Same);
    }

    /// The layer's side was corrected.
    void by_name_across() {
        by_single([](const Token& token) { return std::string_view(token.name); }, Sides::Other);
    }

    /// What one thing on either hand bears.
    template <class Mark>
    void by_single(const Mark& mark, Sides sides) {
        const auto bearers = [&](std::span<const Token> tokens) {
            std::map<std::string_view, std::vector<std::size_t>> all;
            for (std::size_t i = 0; i < tokens.size(); ++i)
                if (const std::string_view word = mark(tokens[i]); !word.empty()) all[word].push_back(i);
            return all;
        };
        const auto drawn = bearers(fresh_);
        std::vector<Candidate> candidates;
        for (const auto& [word, all] : bearers(current_))
            if (const auto found = drawn.find(word);
                all.size() == 1 && found != drawn.end() && found->second.size() == 1)
                propose(all.front(), found->second.front(), candidates, sides);
        settle(std::move(candidates), FoundBy::TraceKey);
    }

    /// Across the board only what has no name: two parts of different names may lie back to back.
    void by_place(Sides sides) {
        std::vector<Box> boxes;
        for (const Token& token : fresh_)
            boxes.push_back(sides == Sides::Same || token.name.empty() ? token.box : Box{});
        const geometry::BoxIndex index(boxes);
        std::vector<Candidate> candidates;
        for (std::size_t c = 0; c < current_.size(); ++c)
            if (!partner_[c] && !current_[c].box.is_empty() && (sides == Sides::Same || !current_[c].key.empty()))
                for (const std::size_t f : index.touching(current_[c].box.grown(kOff)))
                    if (same_place(current_[c], fresh_[f])) propose(c, f, candidates, sides);
        settle(std::move(candidates), FoundBy::Place);
    }

    /// Only what is the one candidate of its one candidate.
    void by_size() {
        std::vector<Box> boxes;
        for (std::size_t f = 0; f < fresh_.size(); ++f)
            boxes.push_back(taken_[f] ? Box{} : fresh_[f].box);
        const geometry::BoxIndex index(boxes);
        std::vector<Candidate> near;
        std::vector<std::size_t> of_current(current_.size()), of_fresh(fresh_.size());
        for (std::size_t c = 0; c < current_.size(); ++c) {
            if (partner_[c] || current_[c].box.is_empty() || current_[c].key.empty()) continue;
            const std::size_t before = near.size();
            for (const std::size_t f : index.touching(current_[c].box.grown(longer(current_[c].box))))
                if (same_thing_near(current_[c], fresh_[f])) propose(c, f, near);
            of_current[c] = near.size() - before;
            for (std::size_t i = before; i < near.size(); ++i)
                ++of_fresh[near[i].fresh];
        }
        std::erase_if(near, [&](const Candidate& candidate) {
            return of_current[candidate.current] != 1 || of_fresh[candidate.fresh] != 1;
        });
        settle(std::move(near), FoundBy::Place);
    }

    std::span<const Token> current_;
    std::span<const Token> fresh_;
    std::vector<std::optional<Partner>> partner_;
    std::vector<bool> taken_;
};

} // namespace

std::string_view lasting_key(std::string_view key) {
    const std::size_t slash = key.rfind('/');
    const std::string_view step = slash == std::string_view::npos ? key : key.substr(slash + 1);
    return step.find(':') == std::string_view::npos ? step : std::string_view();
}

Token token_of(const document::Footprint& part) {
    return {part.trace_key,      part.id,
            part.placement.side, geometry::bounds(document::extent_on_board(part)),
            name_in_trace(part), part.pads.size()};
}
Token token_of(const document::KeepOut& thing) {
    return {thing.trace_key, thing.id, thing.side, geometry::bounds(thing.outline), thing.name};
}
Token token_of(const document::Shield& thing) {
    return {{}, thing.id, thing.side, geometry::bounds(thing.outline), thing.name};
}

std::vector<std::optional<Partner>> partners(std::span<const Token> current, std::span<const Token> fresh) {
    return Matcher(current, fresh).run();
}

} // namespace padchart::svg
