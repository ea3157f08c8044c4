#pragma once
// The physics of a heat plan written down once more, cell by cell, from the description of the model and not from its
// network: a board of whole cells with bodies on both faces, foils, drawn copper, jet or circling jet, still air or
// preheater, radiation. Runge-Kutta steps of four or ten milliseconds, no matrix anywhere. Shared with the product are
// the formulas of the jet and the data of the bodies, which have tests of their own.

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "analysis/heat_setup.hpp"

namespace padchart::analysis::test {

/// Whole cells of one millimetre, half open.
struct Rect {
    int x0, y0, x1, y1;
    [[nodiscard]] bool has(int i, int j) const { return i >= x0 && i < x1 && j >= y0 && j < y1; }
    [[nodiscard]] int cells() const { return (x1 - x0) * (y1 - y0); }
    [[nodiscard]] bool meets(const Rect& o) const { return x0 < o.x1 && o.x0 < x1 && y0 < o.y1 && o.y0 < y1; }
};

struct TwinBody {
    std::string id;
    Rect at;
    bool far = false;
};
/// mm; its edges lie off the middles of cells.
struct TwinFoil {
    double x0, y0, x1, y1;
    [[nodiscard]] double share_of(int i, int j) const {
        return std::max(0.0, std::min<double>(i + 1, x1) - std::max<double>(i, x0)) *
               std::max(0.0, std::min<double>(j + 1, y1) - std::max<double>(j, y0));
    }
    [[nodiscard]] bool has(geometry::Vec2 p) const { return p.x > x0 && p.x < x1 && p.y > y0 && p.y < y1; }
};
struct TwinCopper {
    Rect at;
    double factor;
};
struct TwinScene {
    int wide = 24, high = 14;
    std::vector<Rect> cuts;
    std::vector<TwinBody> bodies; ///< no two over one cell of one face
    std::vector<TwinFoil> foils;  ///< those in place
    std::vector<TwinCopper> copper;
};

class SlowTwin {
public:
    SlowTwin(const HeatSetup& setup, const HeatCase& unknowns, const TwinScene& scene)
        : setup_(setup), case_(unknowns), scene_(scene), room_c_(setup.options.room_c),
          flow_(jet_flow({setup.plan.set_point_c, setup.plan.flow_l_per_min, setup.plan.nozzle_bore_mm,
                          setup.plan.stand_off_mm, room_c_, unknowns.exit_factor})) {
        number();
        double best = 1.0; // copper spreads fast: steps must follow
        for (const TwinCopper& area : scene_.copper)
            best = std::max(best, area.factor);
        if (8.0 * case_.conductivity * best / (case_.heat_capacity * kCell_m2) > 150.0) step_s_ = 0.004;
        for (int j = 0; j < scene_.high; ++j)
            for (int i = 0; i < scene_.wide; ++i)
                air_.push_back(meet_jet(i, j));
        for (const Lump& lump : lumps_)
            for (const auto& [i, j] : lump.cells)
                if (!lump.of->far) find_walls(lump, i, j);
        if (setup.plan.preheat_c)
            soak();
        else
            t_.assign(count_, room_c_);
    }

    void run(double until_s) {
        const double dt = step_s_;
        std::vector<double> a(count_), b(count_), c(count_), d(count_), at(count_);
        for (; now_s_ < until_s - dt / 2; now_s_ += dt) {
            rates(t_, a, true);
            shifted(a, dt / 2, at);
            rates(at, b, true);
            shifted(b, dt / 2, at);
            rates(at, c, true);
            shifted(c, dt, at);
            rates(at, d, true);
            for (std::size_t n = 0; n < count_; ++n)
                t_[n] += dt / 6 * (a[n] + 2 * b[n] + 2 * c[n] + d[n]);
        }
    }

    /// Mean of the board under some cells.
    [[nodiscard]] double board_mean(const Rect& at) const {
        double sum = 0.0;
        int cells = 0;
        for (const std::size_t n : board_under(at)) {
            sum += t_[n];
            ++cells;
        }
        return sum / cells;
    }
    [[nodiscard]] double board_hottest(const Rect& at) const {
        double hottest = -1e9;
        for (const std::size_t n : board_under(at))
            hottest = std::max(hottest, t_[n]);
        return hottest;
    }
    [[nodiscard]] double hottest(const std::string& id) const {
        double hottest = -1e9;
        for (const Lump& lump : lumps_)
            if (lump.of->id == id) hottest = std::max(hottest, t_[lump.node]);
        return hottest;
    }

private:
    struct Air {
        double h = 0.0, ht = 0.0, board_h = 0.0, board_ht = 0.0;
    };
    struct Cell {
        int i, j;
    };
    struct Lump {
        const TwinBody* of;
        const BodyData* data;
        std::vector<Cell> cells;
        std::size_t node;
    };

    [[nodiscard]] std::size_t index(int i, int j) const { return static_cast<std::size_t>(j * scene_.wide + i); }
    [[nodiscard]] int board_at(int i, int j) const {
        return i < 0 || j < 0 || i >= scene_.wide || j >= scene_.high ? -1 : board_[index(i, j)];
    }
    [[nodiscard]] std::vector<std::size_t> board_under(const Rect& at) const {
        std::vector<std::size_t> nodes;
        for (int j = at.y0; j < at.y1; ++j)
            for (int i = at.x0; i < at.x1; ++i)
                if (const int n = board_at(i, j); n >= 0) nodes.push_back(static_cast<std::size_t>(n));
        return nodes;
    }

    void number() {
        for (int j = 0; j < scene_.high; ++j)
            for (int i = 0; i < scene_.wide; ++i) {
                const bool is_cut =
                    std::any_of(scene_.cuts.begin(), scene_.cuts.end(), [&](const Rect& c) { return c.has(i, j); });
                board_.push_back(is_cut ? -1 : static_cast<int>(count_++));
            }
        for (const TwinBody& body : scene_.bodies) {
            const BodyData& data = setup_.layout.body_of(document::Id{body.id})->data;
            const bool is_even = body.at.cells() < 6 || data.conductivity >= 20.0; // one temperature
            if (is_even) lumps_.push_back({&body, &data, {}, count_++});
            for (int j = body.at.y0; j < body.at.y1; ++j)
                for (int i = body.at.x0; i < body.at.x1; ++i) {
                    if (!is_even) lumps_.push_back({&body, &data, {}, count_++});
                    lumps_.back().cells.push_back({i, j});
                }
        }
        for (const Lump& a : lumps_) // one cell each, or nothing beside them
            for (const Lump& b : lumps_)
                for (const auto& [i, j] : a.cells)
                    for (const auto& [k, l] : b.cells)
                        if (a.of == b.of && a.node != b.node && ((k == i + 1 && l == j) || (k == i && l == j + 1)))
                            sideways_.push_back({a.node, b.node, a.data->conductivity * a.data->height_m});
    }

    [[nodiscard]] double entrained() const {
        return setup_.plan.preheat_c ? room_c_ + case_.entrainment * (*setup_.plan.preheat_c - room_c_) : room_c_;
    }

    Air meet_jet(int i, int j) const {
        const int samples = setup_.options.circle_radius_mm > 0.0 ? 8 : 24;
        Air mean;
        for (int a = 0; a < samples; ++a)
            for (int b = 0; b < samples; ++b)
                add(mean, meet_jet({i + (a + 0.5) / samples, j + (b + 0.5) / samples}));
        for (double* value : {&mean.h, &mean.ht, &mean.board_h, &mean.board_ht})
            *value /= samples * samples;
        return mean;
    }

    /// At one place, mean over the nozzle's turn.
    Air meet_jet(geometry::Vec2 p) const {
        const double circle = setup_.options.circle_radius_mm;
        const int turns = circle > 0.0 ? 72 : 1;
        const double bore = setup_.plan.nozzle_bore_mm, ratio = setup_.plan.stand_off_mm / bore;
        const double film_resistance =
            setup_.board.thickness_mm * 1e-3 / (3 * setup_.board.through_conductivity_w_per_m_k);
        Air mean;
        for (int turn = 0; turn < turns; ++turn) {
            const double angle = 2 * std::numbers::pi * turn / turns;
            const geometry::Vec2 axis =
                setup_.plan.aim + geometry::Vec2{circle * std::cos(angle), circle * std::sin(angle)};
            const double x = geometry::distance(p, axis) / bore;
            const double nu = martin_local_nusselt(x, ratio, flow_.reynolds, flow_.prandtl);
            const double h = case_.h_factor * nu * flow_.air_conductivity / (bore * 1e-3);
            const double air = entrained() + effectiveness(x, ratio, case_.spread) * (flow_.exit_c - entrained());
            const double through = h / (1 + h * film_resistance);
            add(mean, {h, h * air, through, through * air});
        }
        for (double* value : {&mean.h, &mean.ht, &mean.board_h, &mean.board_ht})
            *value /= turns;
        return mean;
    }

    static void add(Air& to, const Air& more) {
        to.h += more.h;
        to.ht += more.ht;
        to.board_h += more.board_h;
        to.board_ht += more.board_ht;
    }

    [[nodiscard]] double grey(double emissivity, double celsius) const {
        const double t = celsius + 273.15, room = room_c_ + 273.15;
        return emissivity * 5.670374e-8 * (t * t * t * t - room * room * room * room);
    }
    [[nodiscard]] double bare(int i, int j) const {
        double under = 0.0;
        for (const TwinFoil& foil : scene_.foils)
            under += foil.share_of(i, j);
        return 1.0 - under * (1.0 - case_.shield_h);
    }
    [[nodiscard]] bool is_covered(int i, int j, bool far) const {
        return std::any_of(scene_.bodies.begin(), scene_.bodies.end(),
                           [&](const TwinBody& body) { return body.far == far && body.at.has(i, j); });
    }
    [[nodiscard]] double copper(int i, int j) const {
        double factor = 1.0;
        for (const TwinCopper& area : scene_.copper)
            if (area.at.has(i, j)) factor *= area.factor;
        return factor;
    }
    /// W/m2 into a face that looks at what is below.
    [[nodiscard]] double from_below(double emissivity, double celsius) const {
        if (setup_.plan.preheat_c) return 22.0 * (*setup_.plan.preheat_c - celsius);
        return 6.0 * (room_c_ - celsius) - grey(emissivity, celsius);
    }

    void rates(const std::vector<double>& t, std::vector<double>& rate, bool jet) const {
        const double thick = setup_.board.thickness_mm * 1e-3;
        std::vector<double>& watts = rate;
        std::fill(watts.begin(), watts.end(), 0.0);
        const auto pass = [&](std::size_t a, std::size_t b, double g) {
            watts[a] += g * (t[b] - t[a]);
            watts[b] += g * (t[a] - t[b]);
        };
        for (int j = 0; j < scene_.high; ++j)
            for (int i = 0; i < scene_.wide; ++i) {
                const int own = board_at(i, j);
                if (own < 0) continue;
                const auto n = static_cast<std::size_t>(own);
                for (const Cell& next : {Cell{i + 1, j}, Cell{i, j + 1}})
                    if (const int other = board_at(next.i, next.j); other >= 0) {
                        const double a = copper(i, j), b = copper(next.i, next.j);
                        pass(n, static_cast<std::size_t>(other), case_.conductivity * thick * 2 * a * b / (a + b));
                    }
                if (!is_covered(i, j, true)) watts[n] += kCell_m2 * from_below(case_.emissivity, t[n]);
                if (is_covered(i, j, false)) continue;
                watts[n] -= kCell_m2 * grey(case_.emissivity, t[n]);
                const Air& air = air_[index(i, j)];
                watts[n] +=
                    kCell_m2 * (jet ? bare(i, j) * (air.board_ht - air.board_h * t[n]) : 6.0 * (room_c_ - t[n]));
            }
        for (const Lump& lump : lumps_)
            body(lump, t, watts, jet, pass);
        for (const auto& [n, h, ht] : walls_)
            if (jet) watts[n] += ht - h * t[n];
        for (const auto& [a, b, g] : sideways_)
            pass(a, b, g);
        for (std::size_t n = 0; n < count_ - lumps_.size(); ++n)
            rate[n] /= case_.heat_capacity * thick * kCell_m2;
        for (const Lump& lump : lumps_)
            rate[lump.node] /=
                lump.data->heat_capacity * lump.data->height_m * kCell_m2 * static_cast<double>(lump.cells.size());
    }

    template <class Pass>
    void body(const Lump& lump, const std::vector<double>& t, std::vector<double>& watts, bool jet,
              const Pass& pass) const {
        const std::size_t n = lump.node;
        const BodyData& data = *lump.data;
        const double emissivity = std::min(data.emissivity, case_.emissivity);
        for (const auto& [i, j] : lump.cells) {
            if (const int under = board_at(i, j); under >= 0)
                pass(n, static_cast<std::size_t>(under), data.contact[case_.contact + 1] * kCell_m2);
            if (lump.of->far) {
                watts[n] += kCell_m2 * from_below(emissivity, t[n]);
                continue;
            }
            watts[n] -= kCell_m2 * grey(emissivity, t[n]);
            const Air& air = air_[index(i, j)];
            if (jet)
                watts[n] += kCell_m2 * bare(i, j) * (air.ht - air.h * t[n]);
            else
                watts[n] += kCell_m2 * 6.0 * (room_c_ - t[n]);
        }
    }

    /// The walls of a cell of a body that face the jet, and the air that meets them where they stand.
    void find_walls(const Lump& lump, int i, int j) {
        struct Wall {
            int dx, dy;
            geometry::Vec2 middle;
        };
        for (const Wall& wall : {Wall{-1, 0, {double(i), j + 0.5}}, Wall{1, 0, {i + 1.0, j + 0.5}},
                                 Wall{0, -1, {i + 0.5, double(j)}}, Wall{0, 1, {i + 0.5, j + 1.0}}}) {
            if (!lump.data->has_wall || lump.of->at.has(i + wall.dx, j + wall.dy)) continue;
            // A foil hangs over the walls below it.
            if (std::any_of(scene_.foils.begin(), scene_.foils.end(),
                            [&](const TwinFoil& foil) { return foil.has(wall.middle); }))
                continue;
            const geometry::Vec2 to = setup_.plan.aim - wall.middle;
            const double facing = (wall.dx * to.x + wall.dy * to.y) / geometry::length(to);
            if (facing <= 0.0) continue;
            const double area_m2 = facing * 1e-3 * lump.data->height_m;
            const Air air = meet_jet(wall.middle);
            walls_.push_back({lump.node, area_m2 * air.h, area_m2 * air.ht});
        }
    }

    void shifted(const std::vector<double>& rate, double by_s, std::vector<double>& out) const {
        for (std::size_t n = 0; n < count_; ++n)
            out[n] = t_[n] + by_s * rate[n];
    }

    /// Over the preheater in still air until nothing moves any more.
    void soak() {
        t_.assign(count_, 0.6 * *setup_.plan.preheat_c + 0.4 * room_c_); // not far from where it ends
        std::vector<double> rate(count_);
        for (int step = 0; step < 1000000; ++step) {
            rates(t_, rate, false);
            double fastest = 0.0;
            for (std::size_t n = 0; n < count_; ++n) {
                t_[n] += step_s_ / 2 * rate[n];
                fastest = std::max(fastest, std::abs(rate[n]));
            }
            if (fastest < 3e-3) return; // 0.1 K from there, by the board's own time
        }
        FAIL("does not come to rest");
    }

    static constexpr double kCell_m2 = 1e-6;

    const HeatSetup& setup_;
    HeatCase case_;
    const TwinScene& scene_;
    double room_c_;
    JetFlow flow_;
    std::size_t count_ = 0;
    std::vector<int> board_; ///< node of a cell, -1 where there is no board
    std::vector<Lump> lumps_;
    struct Sideways {
        std::size_t a, b;
        double w_per_k;
    };
    std::vector<Sideways> sideways_;
    std::vector<Air> air_;
    struct WallInAir {
        std::size_t node;
        double w_per_k, w;
    };
    std::vector<WallInAir> walls_;
    std::vector<double> t_;
    double now_s_ = 0.0;
    double step_s_ = 0.01;
};

} // namespace padchart::analysis::test
