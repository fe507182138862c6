#include <cmath>
#include <numbers>

#include "solid/thread_frame.hpp"

/// In a run-out the profile keeps its places along the axis and its radii go evenly to that of the end's
/// circle.
namespace fitup::solid {
namespace {

constexpr std::size_t finish = 1;
constexpr int least_round_steps = 24;

double binomial(std::size_t n, std::size_t k) {
    double value = 1.0;
    for (std::size_t i = 1; i <= k; ++i)
        value = value * static_cast<double>(n - k + i) / static_cast<double>(i);
    return value;
}

/// A pole of the run-out's section, whose radius depends on the turn: of a product of two of the section's
/// polynomials (what is left of the depth, and the depth), pairs of poles with the same sum of indices.
struct FadingPole {
    struct Pair {
        double share = 0.0;
        SectionPole depth;
        SectionPole place;
    };
    std::vector<Pair> pairs;
    double weight = 0.0;
};

std::vector<FadingPole> fading_poles(const std::vector<SectionPole>& section) {
    const std::size_t degree = section.size() - 1;
    std::vector<FadingPole> poles(2 * degree + 1);
    for (std::size_t i = 0; i <= degree; ++i) {
        for (std::size_t j = 0; j <= degree; ++j) {
            const double share = binomial(degree, i) * binomial(degree, j) / binomial(2 * degree, i + j) *
                                 section[i].weight * section[j].weight;
            poles[i + j].pairs.push_back({share, section[i], section[j]});
            poles[i + j].weight += share;
        }
    }
    return poles;
}

}  // namespace

RunOut::RunOut(ThreadFrame& frame) : frame_(frame) {
    const ThreadLayout& layout = frame.layout();
    const EndForm& form = layout.end(finish);
    for (std::size_t k = 0; k < 4; ++k) {
        edges_.corners[k] = frame.vertex(layout.crossing(finish, k, 0.0));
        circle_corners_[k] = frame.vertex({layout.turn_at_circle(finish, k, 0.0), form.z_mm, form.radius_mm});
    }
    for (std::size_t k = 0; k < 4; ++k) {
        const std::function<Crossing(double)> at = [&](double v) { return layout.crossing(finish, k, v); };
        const std::function<gp_Pnt2d(double)> flat = [&](double v) { return gp_Pnt2d(at(v).turn_rad, v); };
        const bool straight = layout.section(k).size() == 2;
        const auto turns = layout.crease_turns(finish, k);
        const int steps = path_steps(turns.most - turns.least, straight ? 1 : least_round_steps);
        const TopoDS_Edge edge =
            frame.edge_through(at, 0.0, 1.0, steps, edges_.corners[k], edges_.corners[(k + 1) % 4]);
        edges_.creases[k] = {
            {edge, true,
             straight ? line_between(flat(0.0), flat(1.0), 0.0, 1.0) : through(flat, 0.0, 1.0, steps)}};
    }
}

/// On the circle, in the order of turns: v falls. Root and crest are parted in their middle.
Walk RunOut::arcs_of(std::size_t piece) const {
    const ThreadLayout& layout = frame_.layout();
    const EndForm& form = layout.end(finish);
    const auto turn = [&](double v) { return layout.turn_at_circle(finish, piece, v); };
    const std::function<gp_Pnt2d(double)> flat = [&](double t) {
        return gp_Pnt2d(t, layout.v_at(piece, form.z_mm - layout.rise_mm() * t));
    };
    const bool straight = layout.section(piece).size() == 2;
    Walk walk;
    TopoDS_Vertex from = circle_corners_[(piece + 1) % 4];
    const auto add = [&](double v_from, double v_to, const TopoDS_Vertex& to) {
        const double first = turn(v_from);
        const double last = turn(v_to);
        walk.push_back({frame_.arc(finish, first, last, from, to), true,
                        straight ? line_between({first, v_from}, {last, v_to}, first, last)
                                 : through(flat, first, last, least_round_steps)});
        from = to;
    };
    const bool parted = piece % 2 == 0;
    if (parted) add(1.0, 0.5, frame_.vertex({turn(0.5), form.z_mm, form.radius_mm}));
    add(parted ? 0.5 : 1.0, 0.0, circle_corners_[piece]);
    return walk;
}

TopoDS_Edge RunOut::helix(std::size_t k) const {
    const ThreadLayout& layout = frame_.layout();
    const SectionPole pole = layout.section(k).front();
    const double first = layout.crossing(finish, k, 0.0).turn_rad;
    const double last = layout.turn_at_circle(finish, k, 0.0);
    const std::function<Crossing(double)> at = [&](double turn) { return layout.fading(pole, turn); };
    return frame_.edge_through(at, first, last, path_steps(last - first), edges_.corners[k],
                               circle_corners_[k]);
}

Handle(Geom_Surface) RunOut::surface(std::size_t piece) const {
    const ThreadLayout& layout = frame_.layout();
    const EndForm& form = layout.end(finish);
    const double margin = frame_.splines().step_rad();
    const double first = layout.crossing(finish, piece, 1.0).turn_rad - margin;
    const double last = layout.turn_at_circle(finish, piece, 0.0) + margin;
    std::vector<Handle(Geom_BSplineCurve)> paths;
    std::vector<double> weights;
    for (const FadingPole& pole : fading_poles(layout.section(piece))) {
        const std::function<gp_Pnt(double)> path = [&](double turn) {
            double radius = form.radius_mm;
            double along = layout.rise_mm() * turn;
            for (const auto& [share, depth, place] : pole.pairs) {
                const SectionPole both{place.along_mm, depth.radius_mm, 1.0};
                radius += share / pole.weight * (layout.fading(both, turn).radius_mm - form.radius_mm);
                along += share / pole.weight * place.along_mm;
            }
            return gp_Pnt(radius * std::cos(turn), radius * std::sin(turn), along);
        };
        paths.push_back(through(path, first, last, path_steps(last - first)));
        weights.push_back(pole.weight);
    }
    return across_paths(paths, weights);
}

Ring RunOut::close() {
    std::array<TopoDS_Edge, 4> helices;
    for (std::size_t k = 0; k < 4; ++k) helices[k] = helix(k);
    Walk ring;
    for (std::size_t back = 0; back < 4; ++back) {
        const std::size_t piece = 3 - back;
        const double shift = piece == 3 ? -2.0 * std::numbers::pi : 0.0;
        const Walk arcs = arcs_of(piece);
        Walk walk{{helices[piece], true, level(0.0)}};
        append(walk, backwards(arcs));
        walk.push_back({helices[(piece + 1) % 4], false, level(1.0, shift)});
        append(walk, backwards(edges_.creases[piece]));
        frame_.add_face(surface(piece), walk);
        append(ring, arcs);
    }
    return frame_.ring(finish, ring);
}

}  // namespace fitup::solid
