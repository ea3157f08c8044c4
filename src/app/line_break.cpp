#include "app/line_break.hpp"

#include <algorithm>
#include <sstream>
#include <vector>

namespace padchart::app {

std::string broken_at_blanks(std::string_view text, float room,
                             const std::function<float(std::string_view)>& width_of) {
    const float blank = width_of(" ");
    std::string lines;
    float used = 0.0F;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find_first_of(" \n", at), text.size());
        const std::string_view word = text.substr(at, end - at);
        const float width = width_of(word);
        const bool follows_a_blank = !lines.empty() && lines.back() == ' ';
        if (follows_a_blank && used + width > room) {
            lines.back() = '\n';
            used = 0.0F;
        }
        lines += word;
        used += width;
        if (end < text.size()) {
            lines += text[end];
            used = text[end] == '\n' ? 0.0F : used + blank;
        }
        at = end + 1;
    }
    return lines;
}

std::string centred_lines(std::string_view text, float room, const std::function<float(std::string_view)>& width_of) {
    std::vector<std::string> lines;
    std::istringstream broken(broken_at_blanks(text, room, width_of));
    for (std::string line; std::getline(broken, line);) {
        while (line.ends_with(' '))
            line.pop_back();
        lines.push_back(std::move(line));
    }
    float widest = 0.0F;
    for (const std::string& line : lines)
        widest = std::max(widest, width_of(line));
    std::string out;
    for (const std::string& line : lines) {
        const auto blanks = static_cast<std::size_t>((widest - width_of(line)) / 2 / width_of(" "));
        out += (out.empty() ? "" : "\n") + std::string(blanks, ' ') + line;
    }
    return out;
}

} // namespace padchart::app
