#include "analysis/similarity.hpp"

namespace padchart::analysis {

using geometry::Affine;
using geometry::Homography;
using geometry::Vec2;

// Least squares of board = a * pixel + b in complex numbers, the pixel conjugated where the map mirrors.
Homography similarity(std::span<const PointMatch> points, bool mirrored) {
    Vec2 mean_pixel, mean_board;
    for (const PointMatch& point : points) {
        mean_pixel += point.pixel / static_cast<double>(points.size());
        mean_board += point.board / static_cast<double>(points.size());
    }
    double re = 0.0, im = 0.0, norm = 0.0;
    for (const PointMatch& point : points) {
        Vec2 p = point.pixel - mean_pixel;
        if (mirrored) p.y = -p.y;
        const Vec2 q = point.board - mean_board;
        re += dot(p, q);
        im += cross(p, q);
        norm += dot(p, p);
    }
    const double c = re / norm;
    const double s = im / norm;
    const Affine turn{c, s, -s, c, 0, 0};
    const Affine flip = mirrored ? Affine::scaling(1, -1) : Affine{};
    return Homography::of(Affine::translation(mean_board) * turn * flip * Affine::translation(-mean_pixel));
}

} // namespace padchart::analysis
