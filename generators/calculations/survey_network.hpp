#pragma once

#include <array>
#include <span>
#include <vector>

#include "calculations/survey.hpp"

/// A survey's counted readings as equations between places. Lengths in mm, angles in rad.
namespace fitup::calculations {

/// A counted reading without its words.
struct Observation {
    Quantity quantity = Quantity::span;
    int a = -1, b = -1, c = -1;
    double value = 0.0, sigma = 0.0;
    int reading = -1;  ///< index into Survey::readings
};

struct Network {
    std::size_t points = 0;
    std::vector<Observation> seen;
};

Observation observation_of(const Survey& survey, std::size_t reading);
/// Of the readings that aren't left out.
Network network_of(const Survey& survey);

/// What places give for a reading, and how that changes with the places it depends on.
struct ReadingEquation {
    double fitted = 0.0;
    int count = 0;                  ///< of points
    std::array<int, 3> point{};     ///< which
    std::array<double, 6> rates{};  ///< with x and y of each
};
ReadingEquation equation_of(const Observation& observation, std::span<const plan::Point> at);
/// Value less fitted; of angles the shorter way round.
double misfit(const Observation& observation, double fitted);
/// Of misfits over sigma.
double sum_of_squares(const Network& network, std::span<const plan::Point> at);

/// How many of the two shifts and the turn no coordinates hold: 3 for spans and angles alone.
int free_motions(const Network& network);
bool has_coordinates(const Network& network);
bool has_angles(const Network& network);
bool is_spans_alone(const Network& network);
/// The greatest length among readings and differences of coordinates: the survey's size.
double extent_mm(const Network& network);

/// Whether three places run clockwise as seen.
bool runs_clockwise(std::span<const plan::Point> at, const std::array<int, 3>& ids);

}  // namespace fitup::calculations
