// A drawing read in parts by many is the drawing one reader makes of it: same shapes, groups, keys, points and
// findings, in the same order.
#include <thread>

#include "read_support.hpp"
#include "support/random_shapes.hpp"

namespace padchart::svg {
namespace {

using namespace test;

/// Groups within groups, with and without ids, empty, hidden, left out, linked, drawn again by `use`, and faults.
class RandomTrace {
public:
    explicit RandomTrace(unsigned seed) : random_(seed) {}

    std::string text() {
        out_ = "<style>rect.moved{x:3px} g g > path{transform:translate(1px,2px)} .gone{display:none}</style>"
               "<style media='print'>rect{x:1px}</style><defs><symbol id='s' viewBox='0 0 9 9'>" +
               shape() + "</symbol></defs>";
        for (int i = 0; i < 12; ++i)
            node(0);
        return out_;
    }

private:
    std::string id() {
        if (random_.chance(0.5)) return {};
        return " id='n" + std::to_string(++ids_) + "'";
    }

    std::string shape() {
        switch (random_.below(8)) {
        case 0: return "<rect" + id() + " width='5' height='4' class='moved'/>";
        case 1: return "<circle" + id() + " r='3' cx='1'><title>round</title></circle>";
        case 2: return "<path" + id() + " d='M0 0c1 2 3 4 5 6z'/>";
        case 3: return "<path d='M0 0L5 5x'/>"; // a fault
        case 4: return "<rect width='0' height='4'/>";
        case 5: return "<text>T</text>";
        case 6: return "<rect visibility='hidden' width='2' height='2' style='filter:url(#f)'/>";
        default: return "<use" + id() + (random_.chance(0.5) || ids_ == 0 ? " href='#s'" : " href='#n1'") + "/>";
        }
    }

    void node(int depth) {
        if (depth > 4 || random_.chance(0.6)) {
            out_ += shape();
            return;
        }
        static constexpr const char* kOpen[] = {"g",
                                                "g transform='rotate(20)' ed:label='x'",
                                                "a",
                                                "switch",
                                                "g class='gone'",
                                                "svg x='2' width='50' height='40'",
                                                "g display='inline' transform='bad'",
                                                "g style='transform-box:fill-box;transform:rotate(9deg)'",
                                                "other"};
        const std::string open = kOpen[random_.below(9)];
        out_ += "<" + open + id() + ">";
        for (std::size_t i = random_.below(6); i > 0; --i)
            node(depth + 1);
        out_ += "</" + open.substr(0, open.find(' ')) + ">\n";
    }

    testing::Random random_;
    std::string out_;
    int ids_ = 0;
};

std::string described(const Drawing& d) {
    std::string out = d.title + d.size_note + std::to_string(d.page_width) + std::to_string(d.mm_per_unit.value_or(0));
    for (const Group& g : d.groups)
        out += "\ngroup " + std::to_string(g.parent) + " " + std::string(g.element) + " " + g.id + " " + g.label + " " +
               g.title + " " + g.classes + " " + std::to_string(g.ordinal) + " " + std::to_string(g.line) + ":" +
               std::to_string(g.column);
    for (const DrawnShape& s : d.shapes)
        out += "\nshape " + key_of(d, s) + " " + s.label + " " + s.title + " " + std::to_string(s.group) + " " +
               std::to_string(s.ordinal) + " " + where_of(s) + " " + std::to_string(s.first_subpath) + " " +
               std::to_string(s.subpath_count) + (s.visible ? " seen " : " hidden ") + std::to_string(s.bbox.min.x);
    for (const Subpath& s : d.subpaths)
        out += "\nsubpath " + std::to_string(s.first) + " " + std::to_string(s.count);
    for (const Diagnostic& f : d.diagnostics)
        out += "\n" + f.where + " " + f.code + " " + f.message;
    return out;
}

void check_same(const std::string& text, ReadOptions options) {
    options.workers = 1;
    const Drawing whole = read_text(text, options);
    for (const std::size_t part_bytes : {1U, 40U, 150U, 700U}) {
        options.workers = part_bytes == 40 ? 3 : 2;
        options.part_bytes = part_bytes;
        const Drawing joined = read_text(text, options);
        CHECK(described(joined) == described(whole));
        CHECK(joined.points == whole.points);
    }
}

TEST_CASE("a drawing read in parts is the same as read in one go") {
    for (unsigned seed = 1; seed <= 150; ++seed) {
        CAPTURE(seed);
        check_same(page(RandomTrace(seed).text()), {});
    }
}

TEST_CASE("a drawing read in parts counts what has no id on through a group that is cut") {
    std::string inner = "<g><g>";
    for (int i = 0; i < 30; ++i)
        inner += "<rect width='5' height='4'/><g><path d='M0 0L5 5'/></g><g/>";
    ReadOptions options;
    options.workers = 2;
    options.part_bytes = 64;
    const Drawing drawing = read_page(inner + "</g></g>", options);
    REQUIRE(drawing.shapes.size() == 60);
    CHECK(key_of(drawing, drawing.shapes[58]) == "g:1/g:1/rect:30");
    CHECK(key_of(drawing, drawing.shapes[59]) == "g:1/g:1/g:59/path:1");
}

TEST_CASE("limits cut a drawing read in parts where they cut it read in one go") {
    for (unsigned seed = 200; seed < 220; ++seed) {
        CAPTURE(seed);
        const std::string text = page(RandomTrace(seed).text());
        check_same(text, {.max_shapes = 5});
        check_same(text, {.max_points = 300});
        check_same(text, {.max_depth = 3});
    }
}

TEST_CASE("findings beyond the hundred of a kind are counted over all parts") {
    std::string inner;
    for (int i = 0; i < 250; ++i)
        inner += "<path d='M0 0L5 5x'/>";
    check_same(page(inner), {});
}

TEST_CASE("reading in parts asks whether to go on only on the thread that wants the drawing, and stops when told to") {
    std::string inner;
    for (int i = 0; i < 20'000; ++i)
        inner += "<rect width='5' height='5'/>";
    ReadOptions options;
    options.workers = 3;
    options.part_bytes = 10'000;
    const std::thread::id here = std::this_thread::get_id();
    std::vector<double> shares;
    bool elsewhere = false;
    options.go_on = [&](double share) {
        elsewhere = elsewhere || std::this_thread::get_id() != here;
        shares.push_back(share);
        return true;
    };
    const Drawing whole = read_page(inner, options);
    CHECK(whole.shapes.size() == 20'000);
    CHECK_FALSE(elsewhere);
    REQUIRE(shares.size() > 5);
    CHECK(std::is_sorted(shares.begin(), shares.end()));
    CHECK(shares.back() == doctest::Approx(1.0));
    options.go_on = [](double share) { return share < 0.3; };
    const Result<Drawing> stopped = read(page(inner), options);
    REQUIRE_FALSE(stopped);
    CHECK(stopped.error().message == "reading was called off");
}

} // namespace
} // namespace padchart::svg
