// Which two photos are held against each other.

#include <doctest/doctest.h>

#include "app/inspect_photos.hpp"

using namespace padchart;
using namespace padchart::app;
using namespace padchart::document;

namespace {

Photo photo(const std::string& id, Side side = Side::Top) {
    Photo out;
    out.id = {id};
    out.path = id + ".jpg";
    out.checksum = "fnv1a64:" + id;
    out.side = side;
    out.board_from_pixel = {0.01, 0, 0, 0, 0.01, 0, 0, 0, 1};
    return out;
}

Chart with(std::initializer_list<Photo> photos) {
    Chart chart;
    for (const Photo& one : photos)
        chart.photos.add(one);
    return chart;
}

std::string names(const Chart& before, const Chart& after, Side side_before = Side::Top, Side side = Side::Top) {
    const auto pair = photos_of_both(before, side_before, after, side);
    return pair ? pair->before.id.text + ' ' + pair->after.id.text : "none";
}

} // namespace

TEST_CASE("the last photo from before is held against the last one now that is another file") {
    CHECK(names(with({photo("a"), photo("b")}), with({photo("a"), photo("b"), photo("c")})) == "b c");
    CHECK(names(with({photo("a")}), with({photo("c"), photo("a")})) == "a c");
    Photo same_file = photo("other-name");
    same_file.checksum = photo("a").checksum;
    CHECK(names(with({photo("a")}), with({same_file})) == "none");
    CHECK(names(with({photo("a")}), with({})) == "none");
}

TEST_CASE("without a photo from before the first and the last of now stand for before and now") {
    CHECK(names(with({}), with({photo("a"), photo("b"), photo("c")})) == "a c");
    CHECK(names(with({}), with({photo("a")})) == "none");
}

TEST_CASE("only photos of this board and side count that are placed and not hidden") {
    Photo donor = photo("donor"), hidden = photo("hidden"), loose = photo("loose");
    donor.board = WhichBoard::Donor;
    hidden.hidden = true;
    loose.board_from_pixel.clear();
    for (const Photo& other : {donor, hidden, loose, photo("below", Side::Bottom)})
        CHECK(names(with({photo("a")}), with({photo("b"), other})) == "a b");
    CHECK(names(with({photo("a", Side::Bottom)}), with({photo("b")}), Side::Bottom) == "a b");
    CHECK(names(with({photo("a", Side::Bottom)}), with({photo("b")})) == "none");
}
