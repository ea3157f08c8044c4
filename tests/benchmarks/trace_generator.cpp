#include "trace_generator.hpp"

#include <cassert>
#include <cctype>
#include <cmath>
#include <cstdio>
#include <numbers>

#include "support/random_shapes.hpp"

namespace padchart::benchmarks {
namespace {

using geometry::Vec2;

class TraceWriter {
public:
    TraceWriter(TraceKind kind, std::size_t bytes) : kind_(kind), bytes_(bytes) { out_.reserve(bytes + 65536); }

    std::string write() {
        out_ = "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"no\"?>\n"
               "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"420mm\" height=\"297mm\" viewBox=\"0 0 420 297\">\n"
               "  <style>.pad { fill: #c85 } .mark { fill: #000 }</style>\n";
        while (out_.size() < bytes_)
            part();
        return std::move(out_ += "</svg>\n");
    }

private:
    void part() {
        const Vec2 at{random_.between(10, 410), random_.between(10, 290)};
        out_ += "  <g\n     id=\"U" + std::to_string(++part_) + "\"\n     transform=\"translate(" + number(at.x) + "," +
                number(at.y) + ")" +
                (random_.chance(0.5) ? " rotate(" + number(random_.between(-180, 180)) + ")" : "") + "\">\n";
        const std::size_t shapes = 6 + random_.below(10);
        for (std::size_t i = 0; i < shapes; ++i)
            shape();
        out_ += "  </g>\n";
    }

    void shape() {
        switch (kind_) {
        case TraceKind::Rects: return rect();
        case TraceKind::Lines: return polygon();
        case TraceKind::Curves: return curve();
        case TraceKind::Arcs: return random_.chance(0.5) ? circle() : rounded();
        case TraceKind::Mixed: break;
        }
        const double draw = random_.between(0, 1);
        if (draw < 0.5) return rect();
        if (draw < 0.6) return circle();
        if (draw < 0.7) return rounded();
        if (draw < 0.85) return polygon();
        curve();
    }

    void rect() {
        open("rect");
        attribute("x", random_.between(-5, 5));
        attribute("y", random_.between(-5, 5));
        attribute("width", random_.between(0.2, 3));
        attribute("height", random_.between(0.2, 3));
        if (random_.chance(0.3)) {
            out_ += "\n       transform=\"matrix(" + number(random_.between(-1, 1)) + "," +
                    number(random_.between(-1, 1)) + "," + number(random_.between(-1, 1)) + "," +
                    number(random_.between(-1, 1)) + "," + number(random_.between(-9, 9)) + "," +
                    number(random_.between(-9, 9)) + ")\"";
        }
        out_ += " />\n";
    }

    void circle() {
        open("circle");
        attribute("cx", random_.between(-5, 5));
        attribute("cy", random_.between(-5, 5));
        attribute("r", random_.between(0.1, 1));
        out_ += " />\n";
    }

    /// A land with round corners, drawn as a path.
    void rounded() {
        const double w = random_.between(0.4, 3), h = random_.between(0.4, 3), r = random_.between(0.05, 0.2);
        const std::string corner = "a " + number(r) + "," + number(r) + " 0 0 1 ";
        begin_path({random_.between(-5, 5), random_.between(-5, 5)});
        out_ += " h " + number(w) + " " + corner + number(r) + "," + number(r) + " v " + number(h) + " " + corner +
                number(-r) + "," + number(r) + " h " + number(-w) + " " + corner + number(-r) + "," + number(-r) +
                " v " + number(-h) + " " + corner + number(r) + "," + number(-r) + " z\" />\n";
    }

    void polygon() {
        begin_path({random_.between(-5, 5), random_.between(-5, 5)});
        const std::size_t corners = 5 + random_.below(40);
        for (std::size_t i = 0; i < corners; ++i)
            point(" ", random_.point(0.5));
        out_ += " z\" />\n";
    }

    /// A closed freehand ring: smooth joints, a dozen nodes.
    void curve() {
        const double radius = random_.between(0.5, 4);
        const std::size_t nodes = 4 + random_.below(20);
        const double turn = 2 * std::numbers::pi / static_cast<double>(nodes);
        const auto node = [&](std::size_t i) {
            const double t = turn * static_cast<double>(i % nodes);
            return Vec2{radius * std::cos(t), 0.8 * radius * std::sin(t)};
        };
        const auto along = [&](std::size_t i) {
            const double t = turn * static_cast<double>(i % nodes);
            return Vec2{-radius * std::sin(t), 0.8 * radius * std::cos(t)} * (turn / 3);
        };
        begin_path(node(0));
        out_ += " c";
        for (std::size_t i = 0; i < nodes; ++i) {
            const Vec2 from = node(i), to = node(i + 1);
            point(" ", along(i) + random_.point(0.05 * radius * turn));
            point(" ", to - along(i + 1) - from + random_.point(0.05 * radius * turn));
            point(" ", to - from);
        }
        out_ += " z\" />\n";
    }

    void begin_path(Vec2 at) {
        open("path");
        out_ += "\n       d=\"m";
        point(" ", at);
    }

    void open(const char* element) {
        static constexpr const char* kStyles[] = {
            "fill:#d4aa00;fill-opacity:1;stroke:#000000;stroke-width:0.1;stroke-linejoin:round",
            "fill:none;stroke:#803300;stroke-width:0.05;stroke-linecap:butt;stroke-linejoin:miter;stroke-opacity:1",
            "opacity:0.8;fill:#aaaaaa;fill-rule:evenodd;stroke:none;stroke-width:0.264583"};
        out_ += std::string("    <") + element + "\n       ";
        if (random_.chance(0.2))
            out_ += "class=\"pad\"";
        else
            out_ += std::string("style=\"") + kStyles[random_.below(3)] + "\"";
        out_ += "\n       id=\"" + std::string(element) + std::to_string(++shape_) + "\"";
    }

    void attribute(const char* name, double value) {
        out_ += std::string("\n       ") + name + "=\"" + number(value) + "\"";
    }
    void point(const char* before, Vec2 at) { out_ += before + number(at.x) + "," + number(at.y); }

    /// Six significant digits and no blank zeros.
    static std::string number(double value) {
        char text[32];
        std::snprintf(text, sizeof text, "%.6g", value);
        return text;
    }

    TraceKind kind_;
    std::size_t bytes_;
    std::string out_;
    testing::Random random_{11};
    std::size_t part_ = 0;
    std::size_t shape_ = 0;
};

bool is_upper(char c) {
    return c >= 'A' && c <= 'Z';
}

/// Adds `offset` to the number that follows the letters of every id like "C1" or "U4-3".
std::string renumbered(const std::string& trace, int offset) {
    std::string out;
    std::size_t done = 0;
    for (std::size_t at = trace.find("id=\""); at != std::string::npos; at = trace.find("id=\"", at)) {
        at += 4;
        std::size_t digits = at;
        while (is_upper(trace[digits]))
            ++digits;
        if (digits == at || std::isdigit(static_cast<unsigned char>(trace[digits])) == 0) continue;
        std::size_t used = 0;
        const int number = std::stoi(trace.substr(digits, 8), &used);
        out.append(trace, done, digits - done).append(std::to_string(number + offset));
        done = digits + used;
    }
    return out.append(trace, done);
}

} // namespace

std::string generated_trace(TraceKind kind, std::size_t bytes) {
    return TraceWriter(kind, bytes).write();
}

std::string repeated_trace(const std::string& trace, int boards) {
    const std::size_t begin = trace.find("<g id=\"top\">");
    const std::size_t end = trace.find("<g id=\"keep-out\">");
    assert(begin < end && end != std::string::npos);
    const std::string parts = trace.substr(begin, end - begin);
    std::string out = trace.substr(0, begin);
    for (int i = 0; i < boards; ++i)
        out += "<g transform=\"translate(" + std::to_string(50 * (i % 40)) + " " + std::to_string(40 * (i / 40)) +
               ")\">\n" + renumbered(parts, 1000 * i) + "</g>\n";
    return out + trace.substr(end);
}

} // namespace padchart::benchmarks
