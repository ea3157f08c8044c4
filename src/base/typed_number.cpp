#include "base/typed_number.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>
#include <optional>
#include <span>
#include <string>

namespace padchart {
namespace {

struct Unit {
    std::string_view word;
    double factor; ///< to the first unit of its kind
};

// The first of each kind is the one the factors lead to.
constexpr std::array kLengths = {Unit{"mm", 1.0},   Unit{"cm", 10.0},   Unit{"m", 1000.0},   Unit{"um", 0.001},
                                 Unit{"µm", 0.001}, Unit{"μm", 0.001},  Unit{"mil", 0.0254}, Unit{"mils", 0.0254},
                                 Unit{"in", 25.4},  Unit{"inch", 25.4}, Unit{"\"", 25.4}};
constexpr std::array kAngles = {Unit{"°", 1.0}, Unit{"deg", 1.0}, Unit{"rad", 180.0 / std::numbers::pi}};
constexpr std::array kTimes = {Unit{"s", 1.0}, Unit{"ms", 0.001}, Unit{"min", 60.0}, Unit{"h", 3600.0}};
constexpr std::array kTemperatures = {Unit{"°C", 1.0}, Unit{"C", 1.0}};
constexpr std::array kFlows = {Unit{"l/min", 1.0}, Unit{"L/min", 1.0}, Unit{"l/s", 60.0}};

std::span<const Unit> kind_of(std::string_view field_unit) {
    for (const std::span<const Unit> kind :
         {std::span<const Unit>(kLengths), std::span<const Unit>(kAngles), std::span<const Unit>(kTimes),
          std::span<const Unit>(kTemperatures), std::span<const Unit>(kFlows)})
        if (std::any_of(kind.begin(), kind.end(), [&](const Unit& unit) { return unit.word == field_unit; }))
            return kind;
    return {};
}

/// Plain: typed without a unit. Full: in the field's unit. Ratio: two full ones divided.
enum class Meaning { Plain, Full, Ratio };

struct Value {
    double number = 0.0;
    Meaning meaning = Meaning::Plain;
};

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// Beyond 14 digits lies the noise of sums: 0.1 + 0.2 is 0.3. Zero has no sign.
double without_noise(double value) {
    std::array<char, 40> digits{};
    const auto written =
        std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::scientific, 13);
    double rounded = value;
    std::from_chars(digits.data(), written.ptr, rounded);
    return rounded == 0.0 ? 0.0 : rounded;
}

class Reader {
public:
    Reader(std::string_view text, std::string_view field_unit)
        : text_(text), field_unit_(field_unit), units_(kind_of(field_unit)) {
        for (const Unit& unit : units_)
            if (unit.word == field_unit) own_factor_ = unit.factor;
    }

    Result<double> read() {
        const Value value = sum();
        if (!failed_ && !at_end()) unexpected();
        if (!failed_ && value.meaning == Meaning::Ratio) fail("is a ratio without a unit; " + wanted());
        if (!failed_ && !std::isfinite(value.number)) fail("is too large, or divides by zero");
        if (failed_) return Error{fault_, ""};
        return without_noise(value.number);
    }

private:
    Value sum() {
        Value total = product();
        while (!failed_) {
            const bool plus = take("+");
            if (!plus && !take("-") && !take("−")) return total;
            const Value next = product();
            if (failed_) return total;
            if ((total.meaning == Meaning::Ratio) != (next.meaning == Meaning::Ratio)) {
                fail("adds a ratio to something with a unit; " + wanted());
                return total;
            }
            total.number += plus ? next.number : -next.number;
            if (next.meaning == Meaning::Full) total.meaning = Meaning::Full;
        }
        return total;
    }

    Value product() {
        Value total = factor();
        while (!failed_) {
            const bool times = take("*") || take("×") || take("x");
            if (!times && !take("/") && !take(":") && !take("÷")) return total;
            const Value next = factor();
            if (failed_) return total;
            if (times)
                multiply(total, next);
            else
                divide(total, next);
        }
        return total;
    }

    void multiply(Value& total, const Value& by) {
        if (total.meaning == Meaning::Full && by.meaning == Meaning::Full)
            return fail("multiplies two things with units; " + wanted());
        total.number *= by.number;
        if (by.meaning == Meaning::Full) total.meaning = Meaning::Full;
        if (by.meaning == Meaning::Ratio && total.meaning == Meaning::Plain) total.meaning = Meaning::Ratio;
    }

    void divide(Value& total, const Value& by) {
        if (by.number == 0.0) return fail("divides by zero");
        if (by.meaning == Meaning::Full && total.meaning != Meaning::Full)
            return fail("divides by something with a unit; " + wanted());
        total.number /= by.number;
        if (by.meaning == Meaning::Full) total.meaning = Meaning::Ratio;
        if (by.meaning == Meaning::Ratio && total.meaning == Meaning::Plain) total.meaning = Meaning::Ratio;
    }

    Value factor() {
        constexpr int kDeepest = 40; // brackets and signs; a hand never gets there
        if (++depth_ > kDeepest) {
            fail("has too many brackets");
            return {};
        }
        Value value;
        if (take("-") || take("−")) {
            value = factor();
            value.number = -value.number;
        } else if (take("+")) {
            value = factor();
        } else if (take("(")) {
            value = sum();
            if (!failed_ && !take(")")) fail("lacks a closing bracket");
            if (!failed_) unit(value);
        } else {
            value.number = number();
            if (!failed_) unit(value);
        }
        --depth_;
        return value;
    }

    double number() {
        skip_spaces();
        std::string digits;
        std::size_t end = at_;
        const auto take_digits = [&] {
            while (end < text_.size() && is_digit(text_[end]))
                digits += text_[end++];
        };
        take_digits();
        if (end < text_.size() && (text_[end] == '.' || text_[end] == ',')) {
            digits += '.';
            ++end;
            take_digits();
        }
        if (std::none_of(digits.begin(), digits.end(), is_digit)) {
            at_end() ? fail("ends too early; a number is missing") : unexpected();
            return 0.0;
        }
        take_exponent(digits, end);
        double value = 0.0;
        const auto [stopped, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
        if (error != std::errc() || stopped != digits.data() + digits.size()) fail("is too large or too small");
        at_ = end;
        return value;
    }

    /// Only where digits follow: "1e" is a number and a letter.
    void take_exponent(std::string& digits, std::size_t& end) const {
        if (end >= text_.size() || (text_[end] != 'e' && text_[end] != 'E')) return;
        std::size_t first = end + 1;
        if (first < text_.size() && (text_[first] == '+' || text_[first] == '-')) ++first;
        if (first >= text_.size() || !is_digit(text_[first])) return;
        std::size_t last = first;
        while (last < text_.size() && is_digit(text_[last]))
            ++last;
        digits += text_.substr(end, last - end);
        end = last;
    }

    /// The longest word that fits: "mm" before "m", "l/min" before a division.
    void unit(Value& value) {
        skip_spaces();
        const std::string_view rest = text_.substr(at_);
        std::optional<Unit> found;
        const auto offer = [&](const Unit& unit) {
            if (rest.starts_with(unit.word) && (!found || unit.word.size() > found->word.size())) found = unit;
        };
        if (!field_unit_.empty() && units_.empty()) offer({field_unit_, 1.0});
        for (const Unit& unit : units_)
            offer(unit);
        if (!found) return;
        const std::size_t after = at_ + found->word.size();
        if (after < text_.size() && continues_word(found->word, text_[after])) return;
        if (value.meaning != Meaning::Plain) return fail("has a unit twice");
        at_ = after;
        value.number *= found->factor / own_factor_;
        value.meaning = Meaning::Full;
    }

    /// "mmx" is no millimetre; "mm*2" and "2mm3" read on and are judged there.
    static bool continues_word(std::string_view word, char next) {
        const auto is_letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
        return is_letter(word.back()) && is_letter(next) && next != 'x';
    }

    void skip_spaces() {
        while (at_ < text_.size()) {
            if (text_[at_] == ' ' || text_[at_] == '\t')
                ++at_;
            else if (text_.substr(at_).starts_with("\u00A0"))
                at_ += 2;
            else
                return;
        }
    }
    bool at_end() {
        skip_spaces();
        return at_ == text_.size();
    }
    bool take(std::string_view sign) {
        skip_spaces();
        if (!text_.substr(at_).starts_with(sign)) return false;
        at_ += sign.size();
        return true;
    }

    [[nodiscard]] std::string wanted() const {
        if (field_unit_.empty()) return "a bare number is asked for here";
        return "a value in " + std::string(field_unit_) + " is asked for here";
    }

    void unexpected() {
        std::string units;
        for (const std::string_view word : units_for(field_unit_))
            if (word != "\"" && word != "μm" && word != "mils" && word != "inch")
                units += (units.empty() ? "" : ", ") + std::string(word);
        fail("cannot be read from \"" + std::string(text_.substr(at_)) +
             "\" on; write digits with a point or a comma, + - * / and brackets" +
             (units.empty() ? ", and no unit" : ", and units of " + units));
    }

    void fail(const std::string& what) {
        if (failed_) return;
        failed_ = true;
        fault_ = "\"" + std::string(text_) + "\" " + what + ".";
    }

    std::string_view text_, field_unit_;
    std::span<const Unit> units_;
    double own_factor_ = 1.0;
    std::size_t at_ = 0;
    int depth_ = 0;
    bool failed_ = false;
    std::string fault_;
};

} // namespace

Result<double> typed_number(std::string_view text, std::string_view field_unit) {
    return Reader(text, field_unit).read();
}

std::vector<std::string_view> units_for(std::string_view field_unit) {
    std::vector<std::string_view> words;
    if (!field_unit.empty()) words.push_back(field_unit);
    for (const Unit& unit : kind_of(field_unit))
        if (unit.word != field_unit) words.push_back(unit.word);
    return words;
}

} // namespace padchart
