#include "cli/scale_options.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "cli/shared.hpp"

namespace padchart::cli {

Result<std::vector<double>> numbers_of(std::string_view text, std::size_t count, std::string_view option) {
    const Error fault{fmt::format("\"{}\" is not {} numbers with commas between them", text, count),
                      std::string(option)};
    std::vector<double> numbers;
    std::string_view rest = text;
    while (numbers.size() < count) {
        const std::string_view word = rest.substr(0, rest.find(','));
        double number = 0.0;
        const auto [end, code] = std::from_chars(word.data(), word.data() + word.size(), number);
        if (code != std::errc{} || end != word.data() + word.size() || !std::isfinite(number)) return fault;
        numbers.push_back(number);
        if (word.size() == rest.size()) {
            rest = {};
            break;
        }
        rest.remove_prefix(word.size() + 1);
        if (numbers.size() == count) return fault;
    }
    if (numbers.size() != count) return fault;
    return numbers;
}

std::vector<Option> scale_error_options() {
    return {{"--click-error", OptionKind::Number, "mm by which a picked point or drawn edge may be off; usual 0.1"},
            {"--measuring-error", OptionKind::Number, "mm by which the measured distance may be off; usual 0.05"}};
}

analysis::ScaleErrors scale_errors_of(const Arguments& arguments) {
    analysis::ScaleErrors errors;
    errors.click_mm = arguments.number("click-error").value_or(errors.click_mm);
    errors.measuring_mm = arguments.number("measuring-error").value_or(errors.measuring_mm);
    return errors;
}

Result<analysis::ScaleReading> scale_from_points_text(const std::string& text, std::string_view option,
                                                      const analysis::ScaleErrors& errors) {
    const Result<std::vector<double>> n = numbers_of(text, 5, option);
    if (!n) return n.error();
    Result<analysis::ScaleReading> reading =
        analysis::scale_from_points({(*n)[0], (*n)[1]}, {(*n)[2], (*n)[3]}, (*n)[4], errors);
    if (!reading) return Error{reading.error().message, std::string(option)};
    return reading;
}

Result<analysis::ScaleReading> scale_from_part_text(const document::Chart& chart, const std::string& text,
                                                    std::string_view option, const analysis::ScaleErrors& errors) {
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos)
        return Error{fmt::format("\"{}\" is not NAME=SIZE; right would be one like R1=1608M", text),
                     std::string(option)};
    const Result<document::Id> id = part_by_name(chart, text.substr(0, equals));
    if (!id) return Error{id.error().message, std::string(option)};
    const Result<const patterns::SizeClass*> size = analysis::single_size(text.substr(equals + 1));
    if (!size) return Error{size.error().message, std::string(option)};
    Result<analysis::ScaleReading> reading =
        analysis::scale_from_part(chart.parts[*document::find_part(chart, *id)], **size, errors);
    if (!reading) return Error{reading.error().message, std::string(option)};
    return reading;
}

} // namespace padchart::cli
