#pragma once

#include "calculations/survey_graph.hpp"

/// Places for spans that are known from none: all at once, for networks in which each point is read to its
/// neighbours only.
namespace fitup::calculations {

/// How far a span may be off places that are nearly right: what a misfit is measured with.
double span_slack_mm(const Observation& span);

/// Misfits over `span_slack_mm`, squared, each up to a limit: how badly spans fit places.
double spans_against(const SpanGraph& graph, const std::vector<plan::Point>& at);
double span_against(const Observation& span, const std::vector<plan::Point>& at);
double miss_against(const Observation& span, double length_mm);

/// Settled by least squares in which a span counts for the less the worse it fits.
std::vector<plan::Point> robustly_settled(const SpanGraph& graph, std::vector<plan::Point> at);

/// The same from places of which most are right.
std::vector<plan::Point> robustly_settled_near(const SpanGraph& graph, std::vector<plan::Point> at);

/// A few steps of plain least squares.
std::vector<plan::Point> briefly_settled(const SpanGraph& graph, std::vector<plan::Point> at);

/// Places from the ways along spans between points, eased in space where a piece that lies folded over can
/// turn back, then pressed flat. Empty where the spans don't hang together.
/// @param bulge  how much of the third coordinate is kept at the start, for another try
std::vector<plan::Point> unfolded(const SpanGraph& graph, double bulge);

/// The same from places in the plane, with points lifted out of it.
/// @param height  of each, in median spans
std::vector<plan::Point> pressed_flat(const SpanGraph& graph, const std::vector<plan::Point>& at,
                                      const std::vector<double>& height);

}  // namespace fitup::calculations
