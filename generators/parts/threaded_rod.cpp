#include "parts/threaded_rod.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "base/vector3.hpp"
#include "parts/common_header.hpp"
#include "parts/rod_bending.hpp"
#include "plan/rod_path.hpp"

namespace fitup::parts {

namespace {

using plan::Rod;
using plan::RodEnd;

constexpr const char* end_names[] = {"the first end", "the last end"};

void read_path(Reader& reader, Rod& rod) {
    const Field path = reader.root()["path"];
    for (std::size_t i = 0; i < path.size(); ++i) rod.corners.push_back(reader.point3_or(path.item(i), {}));
    if (const auto length_mm = reader.length_mm(reader.root()["length"]); length_mm && !path)
        rod.corners = {{0.0, 0.0, 0.0}, {*length_mm, 0.0, 0.0}};
}

/// A rod turned down by less than a point's width is not turned down.
double turned_diameter_mm(const plan::Thread& thread, double rod_mm) {
    return std::abs(thread.major_mm - rod_mm) < 2.0 * plan::same_point_mm ? rod_mm : thread.major_mm;
}

void read_thread_of_end(Reader& reader, const Field& field, double rod_mm, RodEnd& end) {
    auto thread = read_thread(reader, field["thread"], field["hand"]);
    const auto length_mm = reader.length_mm(field["length"]);
    if (!thread || !length_mm) return;
    end.diameter_mm = turned_diameter_mm(*thread, rod_mm);
    end.length_mm = thread->depth_mm = *length_mm;
    end.thread_modelled = thread->modelled = reader.text_or(field["model_as"], "plain") == "thread";
    if (end.diameter_mm > rod_mm)
        reader.wrong(field["thread"], "a thread no thicker than the rod",
                     thread->designation + " is " + reader.length_text(thread->major_mm) + ", the rod " +
                         reader.length_text(rod_mm));
    end.thread = std::move(thread);
}

void read_chamfer(Reader& reader, const Field& field, RodEnd& end) {
    const Field chamfer = field["chamfer"];
    const auto given_mm = reader.length_mm(chamfer);
    end.chamfer_mm = given_mm.value_or(0.0);
    if (end.thread && end.thread_modelled) {
        if (given_mm)
            reader.wrong_in_words(chamfer, "a modelled thread has its own chamfer; leave this one out");
        end.chamfer_mm = 0.0;
        return;
    }
    const double radius_mm = end.diameter_mm / 2.0;
    const double most_mm = end.thread ? std::min(radius_mm, end.length_mm) : radius_mm;
    if (end.chamfer_mm >= most_mm)
        reader.wrong(chamfer, "under " + reader.length_text(most_mm),
                     most_mm < radius_mm ? "the thread is no longer" : "the end would come to a point");
}

void read_ends(Reader& reader, Rod& rod) {
    const Field ends = reader.root()["ends"];
    for (std::size_t i = 0; i < rod.ends.size(); ++i) {
        RodEnd& end = rod.ends[i];
        end.diameter_mm = rod.diameter_mm;
        if (i >= ends.size()) continue;
        read_thread_of_end(reader, ends.item(i), rod.diameter_mm, end);
        read_chamfer(reader, ends.item(i), end);
    }
}

/// Half-way between one diameter of thread and the fitting's depth; never more than there is.
double usual_engagement_mm(const RodEnd& end, double depth_mm) {
    const double least_mm = std::min(end.thread->major_mm, depth_mm);
    return std::min((least_mm + depth_mm) / 2.0, end.length_mm);
}

void check_engagement(Reader& reader, const Field& field, const RodEnd& end, const plan::Fitting& fitting) {
    const auto too_much = [&](double most_mm, const std::string& why) {
        if (fitting.engaged_mm <= most_mm + plan::same_point_mm) return;
        if (field["engaged"])
            reader.wrong(field["engaged"], "at most " + reader.length_text(most_mm), why);
        else
            reader.wrong_in_words(
                field["pin_offset"],
                "the rod's end would stand beyond the pin: " + reader.length_text(fitting.engaged_mm) +
                    " of thread are in the fitting; make the offset longer or say `engaged`");
    };
    too_much(fitting.thread_depth_mm, "the fitting is no deeper");
    too_much(end.length_mm, "the thread is no longer");
    too_much(fitting.pin_offset_mm, "the rod's end would stand beyond the pin");
}

std::optional<plan::Fitting> read_fitting(Reader& reader, const Field& field, const RodEnd& end,
                                          const std::string& which) {
    if (!field || field.node->type != parameters::Node::Type::object) return {};
    if (!end.thread) {
        reader.wrong_in_words(field, which +
                                         " has no thread to screw a fitting onto; give it one, or say "
                                         "\"none\" here");
        return {};
    }
    plan::Fitting fitting;
    fitting.name = reader.text_or(field["name"], "fitting");
    fitting.pin_offset_mm = reader.length_mm_or(field["pin_offset"], 0.0);
    fitting.thread_depth_mm = reader.length_mm_or(field["thread_depth"], 0.0);
    fitting.engaged_mm =
        reader.length_mm_or(field["engaged"], usual_engagement_mm(end, fitting.thread_depth_mm));
    check_engagement(reader, field, end, fitting);
    return fitting;
}

void read_fittings(Reader& reader, Rod& rod) {
    const Field fittings = reader.root()["fittings"];
    for (std::size_t i = 0; i < std::min(rod.fittings.size(), fittings.size()); ++i)
        rod.fittings[i] = read_fitting(reader, fittings.item(i), rod.ends[i], end_names[i]);
}

void read_load(const Reader& reader, Rod& rod) {
    const Field load = reader.root()["load"];
    if (!load) return;
    rod.load =
        plan::RodLoad{reader.number(load["push"]).value_or(0.0), reader.number(load["pull"]).value_or(0.0)};
}

}  // namespace

ThreadedRod read_threaded_rod(Reader& reader) {
    ThreadedRod read;
    read_common_header(reader, read.header);
    Rod& rod = read.rod;
    rod.diameter_mm = reader.length_mm_or(reader.root()["diameter"], 0.0);
    rod.bend_radius_mm = reader.length_mm_or(reader.root()["bend_radius"], 0.0);
    read_path(reader, rod);
    // What hangs on the diameter or the path is told only where they can be read.
    if (rod.diameter_mm <= 0.0 || rod.corners.size() < 2) return read;
    read_ends(reader, rod);
    read_fittings(reader, rod);
    read_load(reader, rod);
    check_bending(reader, rod);
    return read;
}

Planned plan_threaded_rod(const parameters::Document& document) {
    Reader reader(document, units_of(document));
    ThreadedRod read = read_threaded_rod(reader);
    if (reader.has_faults()) return refused(reader);
    plan::Plan plan = std::move(read.header);
    plan.rod = std::move(read.rod);
    return {std::move(plan), {}};
}

}  // namespace fitup::parts
