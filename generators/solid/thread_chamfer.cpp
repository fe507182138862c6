#include <BRep_Tool.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "solid/thread_frame.hpp"

namespace fitup::solid {
namespace {

constexpr double full_turn = 2.0 * std::numbers::pi;
/// A round piece turns much within few turns of its crease.
constexpr int least_round_steps = 24;

}  // namespace

/// Part of a piece's crease, in v.
struct Chamfer::Part {
    double first = 0.0;
    double last = 1.0;
    TopoDS_Vertex from;
    TopoDS_Vertex to;
    int wraps = 0;  ///< turns by which the cone has it earlier
};

Chamfer::Chamfer(ThreadFrame& frame, std::size_t end) : frame_(frame), end_(end) {
    const ThreadLayout& layout = frame.layout();
    const std::size_t touched = layout.end(end).touched;
    for (std::size_t k = 0; k < 4; ++k) edges_.corners[k] = frame.vertex(layout.crossing(end, k, 0.0));
    // A flat piece lies on the circle along an arc, a round one touches it in a point.
    const bool round = layout.is_round();
    first_vertex_ = round ? frame.vertex(layout.crossing(end, touched, 0.5)) : edges_.corners[touched];
    last_vertex_ = round ? first_vertex_ : edges_.corners[(touched + 1) % 4];
    first_ = layout.turn_at_circle(end, touched, round ? 0.5 : 0.0) - full_turn;
    last_ = layout.turn_at_circle(end, touched, round ? 0.5 : 1.0);

    const std::size_t cut_piece = layout.long_flank(end);
    const double middle = 0.5 * (first_ + last_);
    for (std::size_t piece = 0; piece < 4; ++piece) {
        const TopoDS_Vertex& from = edges_.corners[piece];
        const TopoDS_Vertex& to = edges_.corners[(piece + 1) % 4];
        const int wraps = piece < touched ? 1 : 0;
        if (piece == touched && round) {
            add_crease(piece, {0.0, 0.5, from, first_vertex_, 1});
            add_crease(piece, {0.5, 1.0, first_vertex_, to, 0});
        } else if (piece == touched) {
            add_touching(piece);
        } else if (piece == cut_piece) {
            // Turns go with v evenly along a flank.
            const double start = layout.crossing(end, piece, 0.0).turn_rad;
            const double finish = layout.crossing(end, piece, 1.0).turn_rad;
            const double v = (middle + wraps * full_turn - start) / (finish - start);
            cut_ = layout.crossing(end, piece, v);
            cut_vertex_ = frame.vertex(cut_);
            cut_.turn_rad = middle;
            add_crease(piece, {0.0, v, from, cut_vertex_, wraps});
            add_crease(piece, {v, 1.0, cut_vertex_, to, wraps});
        } else {
            add_crease(piece, {0.0, 1.0, from, to, wraps});
        }
    }
}

gp_Pnt2d Chamfer::on_cone(const Crossing& at, int wraps) const {
    const EndForm& form = frame_.layout().end(end_);
    const double low = std::min(form.z_mm, form.full_z_mm);
    return {at.turn_rad - wraps * full_turn, (at.z_mm - low) / std::abs(form.full_z_mm - form.z_mm)};
}

void Chamfer::add_crease(std::size_t piece, const Part& part) {
    const ThreadLayout& layout = frame_.layout();
    const std::function<Crossing(double)> at = [&](double v) { return layout.crossing(end_, piece, v); };
    const std::function<gp_Pnt2d(double)> on_strip = [&](double v) { return gp_Pnt2d(at(v).turn_rad, v); };
    const std::function<gp_Pnt2d(double)> on_cone_at = [&](double v) { return on_cone(at(v), part.wraps); };
    const auto turns = layout.crease_turns(end_, piece);
    const bool straight = layout.section(piece).size() == 2;
    const int steps = path_steps(turns.most - turns.least, straight ? 1 : least_round_steps);
    const auto flat = [&](const std::function<gp_Pnt2d(double)>& of) {
        return straight ? line_between(of(part.first), of(part.last), part.first, part.last)
                        : through(of, part.first, part.last, steps);
    };
    const TopoDS_Edge edge = frame_.edge_through(at, part.first, part.last, steps, part.from, part.to);
    edges_.creases[piece].push_back({edge, true, flat(on_strip)});
    on_cone_[piece].push_back({edge, true, flat(on_cone_at)});
}

/// A flat crest or root on the circle itself: turns fall as v grows.
void Chamfer::add_touching(std::size_t piece) {
    const double first = frame_.layout().turn_at_circle(end_, piece, 1.0);
    const double last = frame_.layout().turn_at_circle(end_, piece, 0.0);
    const TopoDS_Edge arc =
        frame_.arc(end_, first, last, edges_.corners[(piece + 1) % 4], edges_.corners[piece]);
    edges_.creases[piece].push_back({arc, false, line_between({first, 1.0}, {last, 0.0}, first, last)});
}

Handle(Geom_Surface) Chamfer::cone(const Walk& walk) const {
    constexpr int samples = 32;
    double least = cut_.turn_rad;
    double most = cut_.turn_rad;
    for (const Walked& step : walk) {
        double first = 0.0, last = 0.0;
        BRep_Tool::Range(step.edge, first, last);
        for (int k = 0; k <= samples; ++k) {
            const double u = step.on_face->Value(first + (last - first) * k / samples).X();
            least = std::min(least, u);
            most = std::max(most, u);
        }
    }
    const EndForm& form = frame_.layout().end(end_);
    const SectionPole here{form.z_mm, form.radius_mm, 1.0};
    const SectionPole there{form.full_z_mm, form.full_radius_mm, 1.0};
    const std::vector<SectionPole> section =
        form.is_low() ? std::vector{here, there} : std::vector{there, here};
    // Creases may lean out a little further than the samples tell: a step is more than enough.
    const double step = frame_.splines().step_rad();
    return frame_.splines().sweep(section, 0.0, (std::floor(least / step) - 1.0) * step,
                                  (std::ceil(most / step) + 1.0) * step);
}

void Chamfer::add_cone_face(const Walk& walk) {
    // Low on the thread the circle is below, else above.
    frame_.add_face(cone(walk), frame_.layout().end(end_).is_low() ? walk : backwards(walk));
}

Ring Chamfer::close() {
    const ThreadLayout& layout = frame_.layout();
    const EndForm& form = layout.end(end_);
    const Crossing middle{cut_.turn_rad, form.z_mm, form.radius_mm};
    const TopoDS_Vertex middle_vertex = frame_.vertex(middle);
    const Handle(Geom2d_Curve) round = level(on_cone(middle, 0).Y());
    const Walked early{frame_.arc(end_, first_, cut_.turn_rad, first_vertex_, middle_vertex), true, round};
    const Walked late{frame_.arc(end_, cut_.turn_rad, last_, middle_vertex, last_vertex_), true, round};
    const std::array<SectionPole, 2> line{SectionPole{form.z_mm, form.radius_mm, 1.0},
                                          SectionPole{cut_.z_mm, cut_.radius_mm, 1.0}};
    const TopoDS_Edge cut_edge =
        frame_.edge(section_curve(line, 0.0, cut_.turn_rad), 0.0, 1.0, middle_vertex, cut_vertex_);
    const Handle(Geom2d_Curve) up = line_between(on_cone(middle, 0), on_cone(cut_, 0), 0.0, 1.0);

    // The crease along the profile, from where it leaves the circle to where it comes back: first to the cut.
    Walk crease;
    if (layout.is_round()) crease.push_back(on_cone_[form.touched].back());
    for (std::size_t k = 1; k < 4; ++k) append(crease, on_cone_[(form.touched + k) % 4]);
    if (layout.is_round()) crease.push_back(on_cone_[form.touched].front());
    const TopoDS_Edge& cut_at = on_cone_[layout.long_flank(end_)].front().edge;
    const auto after_cut = std::find_if(crease.begin(), crease.end(),
                                        [&](const Walked& step) { return step.edge.IsSame(cut_at); }) +
                           1;
    Walk walk{late};
    append(walk, Walk(crease.begin(), after_cut));
    walk.push_back({cut_edge, false, up});
    add_cone_face(walk);
    walk = {early, {cut_edge, true, up}};
    append(walk, Walk(after_cut, crease.end()));
    add_cone_face(walk);

    Walk arcs{early, late};
    if (!layout.is_round()) append(arcs, backwards(edges_.creases[form.touched]));
    return frame_.ring(end_, arcs);
}

}  // namespace fitup::solid
