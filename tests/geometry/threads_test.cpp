#include <thread>
#include <vector>

#include <doctest/doctest.h>

#include "geometry/distance.hpp"
#include "geometry/overlay.hpp"
#include "support/random_shapes.hpp"

using namespace padchart::geometry;
using namespace padchart::testing;

namespace {

double work(std::uint64_t start) {
    Random random(start);
    double sum = 0;
    for (int i = 0; i < 50; ++i) {
        const Region tangle{{random_tangle(random, {}, 3, 12), {}}};
        const Region star{{random_star(random, random.point(9), 3, 12), {}}};
        sum += area(widen(tangle, 0.5)) + gap_between(tangle, star).mm;
    }
    return sum;
}

} // namespace

TEST_CASE("threads that work side by side get what one after the other gets") {
    std::vector<double> together(3);
    std::vector<std::thread> threads;
    for (std::size_t i = 0; i < together.size(); ++i)
        threads.emplace_back([&together, i] { together[i] = work(i); });
    for (std::thread& thread : threads)
        thread.join();
    for (std::size_t i = 0; i < together.size(); ++i)
        CHECK(together[i] == work(i));
}

TEST_CASE("what one thread prepared another may ask and throw away") {
    std::vector<PreparedArea> made;
    std::thread maker([&made] {
        made.emplace_back(Region{{rectangle(2, 2), {}}});
        made.emplace_back(Region{{transformed(rectangle(2, 2), Affine::translation({5, 0})), {}}});
    });
    maker.join();
    CHECK(made[0].distance_to(made[1]) == doctest::Approx(3));
    std::thread breaker([&made] { made.clear(); });
    breaker.join();
    CHECK(made.empty());
}
