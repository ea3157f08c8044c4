#include "analysis/heat_recorder.hpp"

#include <algorithm>

namespace padchart::analysis {

Recorder::Recorder(const HeatSetup& setup, const HeatModel& model, CaseRun& run)
    : setup_(setup), model_(model), run_(run) {
    run_.joint_mean.resize(setup.joints.size());
    run_.joint_top.resize(setup.joints.size());
    run_.neighbour.resize(setup.neighbours.size());
    run_.neighbour_joint.resize(setup.neighbours.size());
    run_.hottest_at.resize(setup.neighbours.size());
    hottest_.assign(setup.neighbours.size(), -1e300);
    run_.peak.assign(setup.layout.board_nodes(), -1e30F);
    run_.peak_top.assign(setup.layout.board_nodes(), -1e30F);
    run_.snapshots.resize(setup.options.snapshots_s.size());
}

void Recorder::see(double time_s, std::span<const double> celsius) {
    model_.top_excess(celsius, excess_);
    see_fields(time_s, celsius);
    for (std::size_t k = 0; k < setup_.joints.size(); ++k) {
        const double mean = setup_.joints[k].board.mean(celsius);
        run_.joint_mean[k].push_back(mean);
        run_.joint_top[k].push_back(mean + setup_.joints[k].board.mean(excess_));
    }
    if (!setup_.target_body.is_empty()) run_.target_body.push_back(setup_.target_body.mean(celsius));
    for (std::size_t k = 0; k < setup_.neighbours.size(); ++k)
        see_neighbour(k, celsius);
    run_.time_s.push_back(time_s);
    last_.assign(celsius.begin(), celsius.end());
}

void Recorder::see_neighbour(std::size_t k, std::span<const double> celsius) {
    const WatchedNeighbour& watch = setup_.neighbours[k];
    const HotSpot hot = hottest_of(setup_, watch, celsius);
    if (hot.node && hot.celsius > hottest_[k]) {
        hottest_[k] = hot.celsius;
        run_.hottest_at[k] = setup_.layout.place_of(*hot.node);
    }
    run_.neighbour[k].push_back(hot.celsius);
    double coldest = 1e300;
    for (const Probe& joint : watch.joints)
        coldest = std::min(coldest, joint.mean(celsius));
    run_.neighbour_joint[k].push_back(watch.joints.empty() ? setup_.options.room_c : coldest);
}

void Recorder::see_fields(double time_s, std::span<const double> celsius) {
    for (std::size_t n = 0; n < run_.peak.size(); ++n) {
        run_.peak[n] = std::max(run_.peak[n], static_cast<float>(celsius[n]));
        run_.peak_top[n] = std::max(run_.peak_top[n], static_cast<float>(celsius[n] + excess_[n]));
    }
    for (std::size_t k = 0; k < run_.snapshots.size(); ++k) {
        const double wanted = setup_.options.snapshots_s[k];
        if (!run_.snapshots[k].empty() || wanted > time_s + 1e-9) continue;
        const double before = run_.time_s.empty() ? time_s : run_.time_s.back();
        const double share = time_s > before ? std::clamp((wanted - before) / (time_s - before), 0.0, 1.0) : 1.0;
        run_.snapshots[k].resize(run_.peak.size());
        for (std::size_t n = 0; n < run_.peak.size(); ++n)
            run_.snapshots[k][n] =
                static_cast<float>(last_.empty() ? celsius[n] : (1.0 - share) * last_[n] + share * celsius[n]);
    }
}

} // namespace padchart::analysis
