#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "plan/cuts.hpp"
#include "plan/plan.hpp"
#include "plan/stroke.hpp"

/// Where a plan has metal, asked point by point: slab and rings less every cut, nothing else. What a file is
/// compared with comes from here and shares no code with the skin that the file was built from.
namespace fitup::exchange {

/// A range of z.
struct Span {
    double low_mm = 0.0;
    double high_mm = 0.0;
};
/// Apart from each other, from the lowest up.
using Spans = std::vector<Span>;

/// What of `spans` lies in no span of `taken`; less than `plan::same_point_mm` is nothing.
Spans without(const Spans& spans, const Spans& taken);
/// What of `spans` lies in `range`.
Spans within(const Spans& spans, const Span& range);
/// One more span; those that touch become one.
void add_span(Spans& spans, const Span& span);

/// A piece of metal, or of metal taken away. The slab comes first, then the rings, then the cuts in the order
/// of `plan::cuts`.
struct Item {
    enum class Kind { slab, ring, cut };
    Kind kind = Kind::slab;
    std::string id;
    /// In z; a cut that opens a face goes on for ever beyond it, a cone with its wide end.
    Span range;
    std::optional<plan::Cut> cut;
};

/// A contour that bounds an item.
struct Edge {
    plan::Contour contour;
    std::size_t item = 0;
    bool is_island = false;
    std::vector<plan::Stroke> strokes;
    plan::Box2 box;
};

/// Where a column is asked for.
struct Probe {
    plan::Point at;      ///< heights of slopes are taken here: on the wall
    plan::Point inside;  ///< what contains this contains the probe: beside the wall
    plan::Point about;   ///< slopes about this axis have one height along the wall
};

struct Column {
    Spans metal;
    bool is_level = true;  ///< its ends are not on a slope that rises along the wall
};

class Metal {
  public:
    explicit Metal(const plan::Plan& plan);

    const std::vector<Item>& items() const { return items_; }
    const std::vector<Edge>& edges() const { return edges_; }
    /// Edges whose box touches that of `edge`, itself among them, in order.
    std::span<const std::size_t> near(std::size_t edge) const { return near_[edge]; }
    /// What stands on a point within the box of `edge`. Cost: edges near it.
    Column column(std::size_t edge, const Probe& probe) const;

  private:
    void add_item(Item::Kind kind, const std::string& id, const Span& range, const plan::Area& area,
                  std::optional<plan::Cut> cut);
    void find_near();
    void apply(const Item& item, const Probe& probe, Column& column) const;
    void add_slab(const Probe& probe, Column& column) const;

    double thickness_mm_;
    double edge_break_mm_;  ///< 0: square edges
    std::vector<Item> items_;
    std::vector<Edge> edges_;
    std::vector<std::vector<std::size_t>> near_;
};

/// How far beside a wall it is asked what contains a point: above what coordinates of 10 m round to, below
/// any real distance.
inline constexpr double beside_mm = 1e-6;

}  // namespace fitup::exchange
