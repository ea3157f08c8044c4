#include "svg/style_sheet.hpp"

#include <algorithm>
#include <cstdint>
#include <deque>
#include <optional>
#include <unordered_map>

#include "svg/media_query.hpp"
#include "svg/scan.hpp"
#include "svg/selectors.hpp"

namespace padchart::svg {
namespace {

struct Rule {
    Selector selector;
    std::size_t first = 0; ///< its declarations in State::declarations
    std::size_t count = 0;
};

struct CustomRule {
    Selector selector;
    CustomProperty property;
};

constexpr int kMaxNesting = 16;

/// The end of a block: position of the '}' that matches the '{' at `open`, or the end of the text.
std::size_t end_of_block(std::string_view text, std::size_t open) {
    int depth = 0;
    return find_outside_quotes(text, open, [&](char c) {
        if (c == '{') ++depth;
        return c == '}' && --depth == 0;
    });
}

std::string shortened(std::string_view text) {
    constexpr std::size_t kLongest = 60;
    return text.size() <= kLongest ? std::string(text) : std::string(text.substr(0, kLongest)) + "...";
}

} // namespace

struct StyleSheet::State {
    std::deque<std::string> texts; // deque: the views into them stay
    std::vector<Rule> rules;
    std::vector<Declaration> declarations;
    // Rules by what their rightmost compound asks for, so that an element meets only those that may fit.
    std::unordered_map<std::string_view, std::vector<std::size_t>> by_id;
    std::unordered_map<std::string_view, std::vector<std::size_t>> by_class;
    std::unordered_map<std::string_view, std::vector<std::size_t>> by_type;
    std::vector<std::size_t> for_all;
    std::deque<std::string> names;
    std::vector<CustomRule> custom; ///< few in any drawing: looked through one by one
};

StyleSheet::StyleSheet() : state_(std::make_unique<State>()) {}
StyleSheet::~StyleSheet() = default;

bool StyleSheet::is_empty() const {
    return state_->rules.empty();
}

namespace {

/// What a comment between two characters leaves: ".a/**/.b" is one compound, "1/**/px" and "f/**/(" are two tokens.
bool comment_parts(char before, char after) {
    const auto in_word = [](char c) {
        return is_letter(c) || is_digit(c) || c == '-' || c == '_' || c == '%' || static_cast<unsigned char>(c) >= 0x80;
    };
    return in_word(before) && (in_word(after) || after == '(');
}

} // namespace

std::string without_comments(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    char quote = '\0';
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (quote == '\0' && text.substr(i).starts_with("/*")) {
            const std::size_t end = text.find("*/", i + 2);
            if (end == std::string_view::npos) break;
            i = end + 1;
            if (!out.empty() && i + 1 < text.size() && comment_parts(out.back(), text[i + 1])) out.push_back(' ');
            continue;
        }
        if (quote != '\0' && text[i] == quote)
            quote = '\0';
        else if (quote == '\0' && (text[i] == '"' || text[i] == '\''))
            quote = text[i];
        out.push_back(text[i]);
    }
    return out;
}

namespace {

class SheetReader {
public:
    using Remark = std::function<void(const std::string&)>;
    using TakeRule = std::function<void(std::vector<Selector>, std::string_view)>;

    SheetReader(const Remark& remark, const TakeRule& take) : remark_(remark), take_(take) {}

    void read(std::string_view text, int nesting) {
        for (std::size_t at = 0; at < text.size();) {
            while (at < text.size() && is_blank(text[at]))
                ++at;
            if (text.substr(at).starts_with("<!--") || text.substr(at).starts_with("-->")) {
                at += text[at] == '<' ? 4U : 3U;
                continue;
            }
            if (at == text.size()) return;
            at = text[at] == '@' ? read_at_rule(text, at, nesting) : read_rule(text, at);
        }
    }

private:
    std::size_t read_rule(std::string_view text, std::size_t at) {
        const std::size_t open = text.find('{', at);
        if (open == std::string_view::npos) return text.size();
        const std::size_t end = end_of_block(text, open);
        const std::string_view prelude = trimmed(text.substr(at, open - at));
        auto selectors = selectors_of(prelude);
        if (selectors)
            take_(std::move(*selectors), text.substr(open + 1, end - open - 1));
        else
            remark_("the rule for \"" + shortened(prelude) + "\" is not understood and left out");
        return end + 1;
    }

    std::size_t read_at_rule(std::string_view text, std::size_t at, int nesting) {
        const std::size_t stop = text.find_first_of(";{", at);
        const std::string_view prelude = trimmed(text.substr(at, std::min(stop, text.size()) - at));
        const bool block = stop != std::string_view::npos && text[stop] == '{';
        const std::size_t end = block ? end_of_block(text, stop) : std::min(stop, text.size());
        const std::string_view block_text = block ? text.substr(stop + 1, end - stop - 1) : std::string_view();
        if (block && nesting < kMaxNesting && is_named(prelude, "@media"))
            read_media(prelude, block_text, nesting);
        else if (!is_named(prelude, "@charset") && !is_named(prelude, "@namespace") && !is_named(prelude, "@font-face"))
            remark_("\"" + shortened(prelude) + "\" is not applied");
        return end + 1;
    }

    void read_media(std::string_view prelude, std::string_view block, int nesting) {
        const auto answer = media_answer(prelude.substr(6));
        if (!answer || !answer->applies)
            remark_("\"" + shortened(prelude) + "\" is not applied");
        else if (answer->asks_size)
            remark_("\"" + shortened(prelude) +
                    "\" hangs on the size of the window: taken as on a screen of 1280 x 720");
        if (answer && answer->applies) read(block, nesting + 1);
    }

    static bool is_named(std::string_view prelude, std::string_view name) {
        return equal_ignoring_case(prelude.substr(0, name.size()), name);
    }

    const Remark& remark_;
    const TakeRule& take_;
};

} // namespace

void StyleSheet::add(std::string_view text, const std::function<void(const std::string&)>& remark) {
    State& state = *state_;
    state.texts.push_back(without_comments(text));
    const auto take = [&](std::vector<Selector> selectors, std::string_view block) {
        const std::size_t first = state.declarations.size();
        if (block.find('{') != std::string_view::npos)
            remark("\"" + shortened(trimmed(block)) + "\" holds rules within a rule, which are not applied");
        const auto refuse = [&](const RefusedDeclaration& bad) { remark(words_of(bad)); };
        read_declarations(
            block, true, [&](const Declaration& good) { state.declarations.push_back(good); }, refuse);
        read_custom_properties(block, [&](const CustomProperty& found) {
            for (const Selector& selector : selectors)
                state.custom.push_back({selector, found});
        });
        const std::size_t count = state.declarations.size() - first;
        if (count == 0) return; // colours only: nothing that moves a shape
        for (Selector& selector : selectors) {
            const std::size_t rule = state.rules.size();
            const Compound& last = selector.compounds.back();
            const auto name = [&](const std::string& given) -> std::string_view {
                return state.names.emplace_back(given);
            };
            if (!last.ids.empty())
                state.by_id[name(last.ids.front())].push_back(rule);
            else if (!last.classes.empty())
                state.by_class[name(last.classes.front())].push_back(rule);
            else if (!last.type.empty())
                state.by_type[name(last.type)].push_back(rule);
            else
                state.for_all.push_back(rule);
            state.rules.push_back({std::move(selector), first, count});
        }
    };
    const std::function<void(std::vector<Selector>, std::string_view)> take_rule = take;
    SheetReader(remark, take_rule).read(state.texts.back(), 0);
}

void StyleSheet::custom(const pugi::xml_node& element, const pugi::xml_node& scope, std::string_view name,
                        StyleBudget& budget,
                        const std::function<void(std::string_view value, Weight weight)>& take) const {
    for (const CustomRule& rule : state_->custom)
        if (rule.property.name == name && matches(rule.selector, element, scope, budget.looks))
            take(rule.property.value, rule.selector.weight | (rule.property.important ? kImportant : 0));
}

void StyleSheet::apply(const pugi::xml_node& element, const ElementKey& key, const pugi::xml_node& scope,
                       Properties& properties, StyleBudget& budget) const {
    if (budget.is_exhausted()) return;
    const State& state = *state_;
    std::vector<std::size_t> candidates = state.for_all;
    const auto look_up = [&](const auto& table, std::string_view name) {
        const auto found = table.find(name);
        if (found != table.end()) candidates.insert(candidates.end(), found->second.begin(), found->second.end());
    };
    look_up(state.by_type, key.type);
    if (!key.id.empty()) look_up(state.by_id, key.id);
    for (std::size_t at = 0; at < key.classes.size();) {
        while (at < key.classes.size() && is_blank(key.classes[at]))
            ++at;
        const std::size_t begin = at;
        while (at < key.classes.size() && !is_blank(key.classes[at]))
            ++at;
        if (at > begin) look_up(state.by_class, key.classes.substr(begin, at - begin));
    }
    std::sort(candidates.begin(), candidates.end()); // later rules win among equals
    for (const std::size_t candidate : candidates) {
        const Rule& rule = state.rules[candidate];
        if (!matches(rule.selector, element, scope, budget.looks)) continue;
        for (std::size_t i = rule.first; i < rule.first + rule.count; ++i) {
            const Declaration& declaration = state.declarations[i];
            properties.set(declaration.property, declaration.value,
                           rule.selector.weight | (declaration.important ? kImportant : 0));
        }
    }
}

} // namespace padchart::svg
