#pragma once

#include <vector>

#include "plan/stroke.hpp"

namespace fitup::rules {

/// The edge of a flat region, prepared for many questions: about logarithmic in edges for a point.
class Boundary {
  public:
    explicit Boundary(const plan::Contour& contour);
    explicit Boundary(const plan::Area& area);

    struct Answer {
        /// Distance to the edge: positive inside the region, negative outside.
        double depth_mm = 0.0;
        plan::Point nearest;
    };
    Answer ask(plan::Point point) const;
    const plan::Box2& box() const { return nodes_.front().box; }

  private:
    struct Node {
        plan::Box2 box;
        std::size_t first = 0;
        std::size_t count = 0;
        std::size_t right = 0;  ///< node of the second half; the first half follows this node. 0: a leaf
    };
    struct Best;

    void add_loop(const plan::Contour& contour, bool is_island);
    void build();
    std::size_t build(std::size_t first, std::size_t count);
    void search(std::size_t node, plan::Point point, Best& best) const;
    bool is_left_of(std::size_t stroke, plan::Point nearest, plan::Point point) const;

    std::vector<plan::Stroke> strokes_;
    std::vector<std::size_t> before_;  ///< the stroke that ends where this one starts
    std::vector<std::size_t> after_;
    std::vector<Node> nodes_;
};

}  // namespace fitup::rules
