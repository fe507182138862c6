#pragma once

#include <string>
#include <vector>

#include "parts/mockup_split.hpp"

/// How a mock-up's pieces are joined: round-headed keys in the plane of the plate, that hold sideways and
/// apart.
namespace fitup::parts {

/// The round of a key, which stands out of one piece across the joint, its middle beyond it.
struct Key {
    double at_mm = 0.0;  ///< along the joint
    double radius_mm = 0.0;
};

/// Where two cells meet: a straight line, square to an axis.
struct Joint {
    std::size_t low = 0;   ///< the cell that the keys stand out of
    std::size_t high = 0;  ///< and the one that they go into, on the side of larger coordinates
    std::size_t axis = 0;  ///< 0: the line is at an x
    double line_mm = 0.0;  ///< that coordinate
    std::vector<Key> keys;
    std::vector<double> metal_mm;  ///< places along it where there is metal
    std::string letter;
};

/// Middle of the key's round beyond the joint, as a share of its radius: the neck is then narrower by a
/// fifth.
inline constexpr double key_out_share = 0.6, largest_key_mm = 6.0;
/// How far the largest key stands out.
inline constexpr double key_reach_mm = (1.0 + key_out_share) * largest_key_mm;

/// Joints that go through metal, lettered from C on (A and B are the faces), with keys where there is room.
/// @param flat  turned as the cells are
std::vector<Joint> joints_of(const Flat& flat, const std::vector<plan::Box2>& cells);

/// A cell with its keys and their seats; faces of a joint lie `gap_mm` apart all along.
/// @param whole  box of the plate: what ends there goes on beyond it
plan::Contour keyed_outline(const std::vector<plan::Box2>& cells, std::size_t cell,
                            const std::vector<Joint>& joints, double gap_mm, const plan::Box2& whole);

/// A place along a joint, and off it towards its high side.
plan::Point place_at(const Joint& joint, double along_mm, double off_mm);

}  // namespace fitup::parts
