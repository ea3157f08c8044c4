#pragma once
// Lets doctest print what a geometry test compares.

#include <string>

#include <doctest/doctest.h>

#include "geometry/box.hpp"
#include "geometry/distance.hpp"
#include "geometry/vec2.hpp"

namespace doctest {

template <>
struct StringMaker<padchart::geometry::Vec2> {
    static String convert(const padchart::geometry::Vec2& p) {
        return ("(" + std::to_string(p.x) + ", " + std::to_string(p.y) + ")").c_str();
    }
};

template <>
struct StringMaker<padchart::geometry::Box> {
    static String convert(const padchart::geometry::Box& box) {
        return StringMaker<padchart::geometry::Vec2>::convert(box.min) + " to " +
               StringMaker<padchart::geometry::Vec2>::convert(box.max);
    }
};

template <>
struct StringMaker<padchart::geometry::Gap> {
    static String convert(const padchart::geometry::Gap& gap) {
        return (std::to_string(gap.mm) + " mm from ").c_str() +
               StringMaker<padchart::geometry::Vec2>::convert(gap.from) + " to " +
               StringMaker<padchart::geometry::Vec2>::convert(gap.to);
    }
};

} // namespace doctest
