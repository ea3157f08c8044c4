#include "patterns/designation.hpp"

#include <algorithm>
#include <string>

#include "patterns/table.hpp"

namespace padchart::patterns {
namespace {

bool is_letter(char c) {
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

std::string upper(std::string_view text) {
    std::string result(text);
    for (char& c : result)
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    return result;
}

void add_hints(std::vector<ClassHint>& hints, std::string_view cell, bool in_standard) {
    while (!cell.empty()) {
        const std::string_view word = cell.substr(0, cell.find(' '));
        cell.remove_prefix(std::min(cell.size(), word.size() + 1));
        if (const auto part_class = document::from_text<document::PartClass>(word))
            hints.push_back({*part_class, in_standard});
    }
}

} // namespace

std::string_view class_letters(std::string_view name) {
    const auto end = std::find_if_not(name.begin(), name.end(), is_letter);
    return name.substr(0, static_cast<std::size_t>(end - name.begin()));
}

std::vector<ClassHint> class_hints(std::string_view name) {
    const std::string_view letters = class_letters(name);
    const std::string_view rest = name.substr(letters.size());
    if (letters.empty() || (!rest.empty() && (rest.front() < '0' || rest.front() > '9'))) return {};
    const Table& rows = table("designations");
    const std::string wanted = upper(letters);
    std::vector<ClassHint> hints;
    for (std::size_t row = 0; row < rows.size(); ++row)
        if (rows.text(row, "letters") == wanted)
            add_hints(hints, rows.text(row, "classes"), rows.text(row, "in_standard") == "yes");
    return hints;
}

} // namespace padchart::patterns
