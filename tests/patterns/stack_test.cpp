#include "patterns/stack.hpp"

#include <doctest/doctest.h>

using namespace padchart;
using namespace padchart::patterns;
using doctest::Approx;

TEST_CASE("conductivity by layer count") {
    // 0.8 + 350 * copper / thickness, planes only; own arithmetic, the stack-ups are common practice.
    document::Stack stack;
    stack.layers = 4;
    stack.thickness_mm = 1.6;
    CHECK(board_data(stack).conductivity_w_per_m_k.nominal == Approx(16));
    stack.thickness_mm = 0.8;
    CHECK(board_data(stack).conductivity_w_per_m_k.nominal == Approx(17));
    CHECK(board_data(stack).conductivity_w_per_m_k.low == Approx(10));
    CHECK(board_data(stack).conductivity_w_per_m_k.high == Approx(30));
    stack.layers = 8;
    stack.thickness_mm.reset();
    const BoardData eight = board_data(stack);
    CHECK(eight.thickness_mm == Approx(0.8));
    CHECK(eight.conductivity_w_per_m_k.nominal == Approx(32));
    CHECK(eight.heat_capacity_j_per_m3_k.nominal == Approx(2.2e6).epsilon(0.03));
    CHECK_FALSE(eight.is_assumed);
}

TEST_CASE("the same copper in a thicker board conducts less") {
    document::Stack stack;
    stack.layers = 8;
    stack.thickness_mm = 1.6;
    CHECK(board_data(stack).conductivity_w_per_m_k.nominal == Approx(0.8 + (32 - 0.8) / 2));
}

TEST_CASE("what is stated wins and what is not known is wide") {
    const BoardData nothing = board_data({});
    CHECK(nothing.is_assumed);
    CHECK(nothing.conductivity_w_per_m_k.high / nothing.conductivity_w_per_m_k.low == Approx(4));
    document::Stack stack;
    stack.conductivity_w_per_m_k = 30;
    stack.heat_capacity_j_per_m3_k = 2.2e6;
    stack.emissivity = 0.3;
    const BoardData stated = board_data(stack);
    CHECK_FALSE(stated.is_assumed);
    CHECK(stated.conductivity_w_per_m_k.low == Approx(21));
    CHECK(stated.conductivity_w_per_m_k.high == Approx(39));
    CHECK(stated.heat_capacity_j_per_m3_k.nominal == 2.2e6);
    CHECK(stated.emissivity == 0.3);
    CHECK(stated.emissivity_is_stated);
    // Through the board: series of laminate 0.29 to 0.343 (published) and little copper.
    CHECK(stated.through_conductivity_w_per_m_k == Approx(0.345).epsilon(0.01));
}
