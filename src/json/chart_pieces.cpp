#include "json/chart_pieces.hpp"

#include <algorithm>
#include <array>

namespace padchart::json {
namespace {

constexpr std::array<std::string_view, 2> kLongLists{"parts", "keep_outs"};

/// Whether the character could open or close something, or part what stands right inside the object or its lists.
constexpr bool matters(char c) {
    return c == '"' || c == '[' || c == ']' || c == '{' || c == '}' || c == ',' || c == ':';
}

class Cutter {
public:
    Cutter(std::string_view text, std::size_t piece_bytes) : text_(text), piece_bytes_(piece_bytes) {}

    std::optional<ChartPieces> run() {
        for (; at_ < text_.size() && is_fine_; ++at_)
            if (matters(text_[at_])) step(text_[at_]);
        if (!is_fine_ || depth_ != 0 || list_ || out_.pieces.empty()) return std::nullopt;
        out_.frame += text_.substr(kept_);
        return std::move(out_);
    }

private:
    void step(char c) {
        switch (c) {
        case '"': return pass_text();
        case '[':
        case '{': return open(c);
        case ']':
        case '}': return close(c);
        case ':':
            if (depth_ == 1) key_ = last_text_;
            return;
        default:
            if (depth_ == 1) key_ = {};
            if (depth_ == 2 && list_ && at_ - begin_ >= piece_bytes_) cut();
        }
    }

    void pass_text() {
        const std::size_t begin = at_ + 1;
        for (++at_; at_ < text_.size() && text_[at_] != '"'; ++at_)
            if (text_[at_] == '\\') ++at_;
        if (at_ >= text_.size()) is_fine_ = false;
        if (depth_ == 1 && is_fine_) last_text_ = text_.substr(begin, at_ - begin);
    }

    void open(char c) {
        ++depth_;
        if (depth_ != 2 || c != '[' || std::find(kLongLists.begin(), kLongLists.end(), key_) == kLongLists.end())
            return;
        list_ = key_;
        begin_ = at_ + 1;
        is_first_piece_ = true;
        out_.frame += text_.substr(kept_, begin_ - kept_);
    }

    void close(char c) {
        if (depth_ == 2 && list_) {
            if (c != ']') is_fine_ = false;
            const bool is_empty = is_first_piece_ && is_blank(text_.substr(begin_, at_ - begin_));
            if (!is_empty) cut();
            list_ = std::nullopt;
            kept_ = at_;
        }
        if (--depth_ < 0) is_fine_ = false;
    }

    /// A stretch of the list ends here, at a comma or the bracket. Between two commas stands something.
    void cut() {
        const std::string_view items = text_.substr(begin_, at_ - begin_);
        if (is_blank(items)) is_fine_ = false;
        out_.pieces.push_back({*list_, items});
        begin_ = at_ + 1;
        is_first_piece_ = false;
    }

    std::string_view text_;
    std::size_t piece_bytes_;
    ChartPieces out_;
    std::size_t at_ = 0;
    std::size_t kept_ = 0;  ///< up to here the text is in the frame, or in a piece
    std::size_t begin_ = 0; ///< of the stretch of the list
    int depth_ = 0;
    bool is_fine_ = true;
    bool is_first_piece_ = true;
    std::string_view last_text_; ///< right inside the outermost object
    std::string_view key_;       ///< of the member we are in
    std::optional<std::string_view> list_;
};

} // namespace

bool is_blank(std::string_view text) {
    return text.find_first_not_of(" \t\r\n") == std::string_view::npos;
}

std::string ListPiece::text() const {
    return "{\"" + std::string(key) + "\":[" + std::string(items) + "]}";
}

std::optional<ChartPieces> pieces_of(std::string_view text, std::size_t piece_bytes) {
    return Cutter(text, piece_bytes).run();
}

} // namespace padchart::json
