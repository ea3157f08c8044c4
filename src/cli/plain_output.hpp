#pragma once
// What a chart holds may be anybody's text. On its way to a terminal it must not move the cursor, ring, or pretend to
// be the answer of another program: this is the one place where every command's output passes.

#include <ostream>
#include <streambuf>
#include <string>

namespace padchart::cli {

/// Hands everything on but control characters (C0 and DEL, and C1 as UTF-8 spells it) and those that turn the direction
/// of writing for whatever follows (U+202A to U+202E, U+2066 to U+2069), which become U+FFFD. Tabs, line feeds and a
/// carriage return before a line feed stay. JSON and CSV spell these characters with letters before they come here, so
/// that nothing of them is lost.
class PlainBuffer : public std::streambuf {
public:
    explicit PlainBuffer(std::ostream& to) : to_(to) {}
    PlainBuffer(const PlainBuffer&) = delete;
    PlainBuffer& operator=(const PlainBuffer&) = delete;
    ~PlainBuffer() override {
        settle();
        hand_on();
    }

protected:
    int_type overflow(int_type c) override;
    std::streamsize xsputn(const char* text, std::streamsize count) override;
    int sync() override;

private:
    void put(char c);
    /// What was held back to see what follows is no beginning of anything.
    void settle();

    /// In one piece: the error stream writes every piece by itself.
    void hand_on();

    std::ostream& to_;
    std::string ready_; ///< looked through, not yet handed on
    std::string held_;  ///< a carriage return, or the first bytes of a character that may have to go
};

} // namespace padchart::cli
