// Every rule with its meaning, unit, limits and source: what `explain rules` shows and what the judging
// reads.
#include <algorithm>
#include <array>

#include "rules/rules.hpp"

namespace fitup::rules {

namespace {

constexpr auto none = std::nullopt;
const std::string own_reason = "follows from the shape alone";
const std::string practice = "common practice, no source";
const std::string wall_guide = "machining suppliers' design guides: wall 0.8 mm, at least 0.5 mm";
const std::string cutter_guide = "machining guides: a cutter over 3 diameters deep is slow, over 5 hard";

Rule final_stop(std::string name, std::string meaning) {
    return {std::move(name), std::move(meaning), "", none, none, own_reason, false, none};
}

Rule note_only(std::string name, std::string meaning, std::string source) {
    return {std::move(name), std::move(meaning), "", none, none, std::move(source), false, none};
}

/// What `calculate` says of a linkage; its limits stand in the linkage's file.
std::vector<Rule> linkage_rules() {
    const auto rule = [](std::string name, std::string meaning, std::string source) {
        return Rule{std::move(name), std::move(meaning), "", none, none, std::move(source), false, none};
    };
    return {
        rule("chain-closes",
             "A chain of levers and rods that can't close somewhere on its travel: a rod is too short or "
             "too long to reach. Value: by how much.",
             own_reason),
        rule("position-selects",
             "The room between where the output stands and its window's nearer edge, less half of the "
             "free travel that joint play gives it: under 0 with new joints it falls between, under 0 with "
             "worn ones it is marginal.",
             "the detent decides: trade manuals"),
        rule("travel-order", "A window that the output passes through on its way between two others.",
             own_reason),
        rule("joint-angle",
             "How far a rod tilts out of the plane of a lever, against the file's `joint_angle_limit`.",
             "DIN 71802: 18 degrees, 15 with safety catch, as printed; unverified"),
        rule("transmission-angle",
             "Between a rod and the arm it turns: under 45 degrees it turns it poorly and play counts for "
             "more.",
             "handbooks and trade: swing within 45 degrees of square"),
        rule("stops-meet",
             "The lever's stop must come just after the selector is home, and before the selector's own "
             "stop.",
             "trade manuals"),
        rule("adjustment-left", "A rod set with less than one turn of its thread left either way.", practice),
        rule("joint-play", "No joint play is stated, so none is counted.", practice)};
}

/// What `calculate` says of patterns measured and turned.
std::vector<Rule> pattern_rules() {
    return {
        final_stop("bolts-up",
                   "A measured pattern whose fasteners do not all go in, however it is shifted and turned. "
                   "Value: the least radial clearance left. It warns where what is not known of the places "
                   "leaves too small a chance."),
        final_stop("clocking",
                   "No turn of the patterns leaves the metal wanted between the holes. Value: what the best "
                   "turn leaves.")};
}

/// What `calculate` says of a stack.
std::vector<Rule> stack_rules() {
    Rule serves =
        final_stop("stack-serves",
                   "No size of a stack's open link serves every closing at worst: what the closings "
                   "ask of it, and what tolerances would do. Value and limit: the most that one "
                   "closing allows, and the least that another asks for.");
    Rule window = final_stop("stack-window",
                             "A closing of a stack that leaves its window at worst. Value: what it comes to; "
                             "limit: the window's end.");
    return {
        std::move(serves), std::move(window),
        note_only("stack-tolerance", "A link of a stack without a tolerance: it counts as exact.", practice),
        note_only("stack-unused", "A link of a stack that is in no closing.", own_reason)};
}

/// What `calculate` says of a survey.
std::vector<Rule> survey_rules() {
    const std::string statistics = "chi-square and normal distributions of the readings' own uncertainties";
    return {
        note_only("suspect-reading",
                  "A reading that the others contradict, with the usual slip where one explains it. Value: "
                  "what it is off by, in its standard deviations.",
                  "data snooping after Baarda, from memory"),
        note_only("readings-agree",
                  "Readings that disagree more than their uncertainties allow, though no single one explains "
                  "it. Value: how many times more.",
                  statistics),
        note_only("unchecked-readings",
                  "Readings in which an error could not be seen, since nothing else checks them; and what to "
                  "measure so that it could.",
                  "redundancy after Baarda, from memory"),
        note_only("contacts-agree",
                  "Contacts of a point that stand otherwise apart along X than along Y: one of the four is "
                  "wrong, or the hole is not round.",
                  practice),
        note_only("default-uncertainty", "Readings whose uncertainty was taken by kind and length.",
                  practice),
        note_only("expected-circle",
                  "A pattern that is not on the circle, or not spaced, as the file expects.", statistics),
        note_only("tapped-hole", "A threaded hole measured: its place is the pitch cylinder's.", practice),
        note_only("trial",
                  "Places as a mock-up or template showed them; it warns of a move that is too long for one.",
                  own_reason)};
}

/// What `calculate` says of two shafts.
std::vector<Rule> concentricity_rules() {
    return {
        final_stop("concentricity",
                   "What may put two shafts off each other adds up to more than the limit. Value and limit: "
                   "total indicator readings, twice the offsets. It warns where the dowels are reamed at "
                   "assembly, since the dial then decides."),
        note_only("dial-sum", "Readings at 12 and 6 that add up to something else than those at 3 and 9.",
                  practice),
        note_only("dial-return", "A last reading that does not return to the first.", practice),
        note_only("dial-in", "An indicator's readings that are over the limit: which way to move.",
                  practice)};
}

std::vector<Rule> make_rules() {
    std::vector<Rule> rules;
    // What can't be a part at all.
    rules.push_back(final_stop("off-part",
                               "A hole, bore or spigot outside the outline or standing across it, a pocket "
                               "that misses the part, a hole with no metal at its place."));
    rules.push_back(
        final_stop("doubled-hole",
                   "Two holes in one place: the same point given twice, or two patterns that share a hole."));
    rules.push_back(final_stop("holes-meeting",
                               "Two holes that run into each other in the metal, from the same side or from "
                               "opposite ones, drill points included; also a hole that runs into the bore. "
                               "Recesses, reliefs and a hollow may open into the bore and each other."));
    rules.push_back(final_stop("nothing-left", "What is cut away leaves no metal."));
    rules.push_back(final_stop("part-in-pieces", "What is cut away leaves more than one piece."));
    rules.push_back(final_stop("edge-break",
                               "An edge break that is to be modelled and that a corner of the outline or the "
                               "thickness has no room for."));
    rules.push_back(
        final_stop("thread-model",
                   "A thread that is to be modelled as a real helix, and that another cut runs into, "
                   "that does not start in a plain face, or that has no room to run out."));
    // Walls and floors.
    rules.push_back(
        {"drill-through",
         "A blind hole whose drill point comes out at the far face or in a pocket there: the drill grabs and "
         "the hole is neither blind nor through. Value: how far the point comes out.",
         "mm", none, 0.0, practice, true, none});
    rules.push_back(
        {"edge-distance",
         "From a hole's centre to the outline, in nominal diameters of the thread, bolt or hole. By "
         "material: 1.5 d in aluminium, cast iron and brass, 2 d in plastic, in steel the table's distance "
         "for the size (1.25 d to 1.5 d). A hole drilled for no fastener only warns.",
         "d", 1.5, 1.0, "Aluminum Design Manual, as quoted by a trade guide; AISC 360-16 Tables J3.4, J3.4M",
         true, none});
    rules.push_back({"rim",
                     "Metal between the outline and a hole, recess, pocket or the bore, and the wall of a "
                     "spigot. A thin rim chatters when it is cut and is bent when the part is dropped.",
                     "mm", 2.0, 0.5, "warn: " + practice + "; stop: " + wall_guide, true, none});
    rules.push_back(
        {"eye-wall",
         "Metal round the hole of an eye or hub of a crank or arm, in diameters of the hole (of a "
         "thread its nominal one).",
         "d", 0.4, 0.15, practice, true, none});
    rules.push_back({"eyes-merge",
                     "Room between the eyes of two arms of a crank. Under 0 they run into each other.", "mm",
                     2.0, 0.0, practice, true, none});
    rules.push_back({"thin-arm",
                     "Length of a crank's longest arm over its thickness: a thin one bends sideways.", "",
                     15.0, none, practice, true, none});
    rules.push_back({"bush-fit",
                     "Least interference of a bush in the pivot's bore, by the limits of both. Under 0 the "
                     "bush may be loose.",
                     "mm", 0.0, none, "ISO 286-2 limits; " + practice, true, none});
    // Bends.
    rules.push_back(
        final_stop("in-bend",
                   "A hole, slot, boss or round end that reaches into a bend: it would be drawn out "
                   "of shape and can't be made as stated."));
    rules.push_back(
        {"bend-leg",
         "Straight strip beyond a bend, against 2 t + r, the least that a vice or brake holds; between "
         "two bends it only notes.",
         "mm", none, none, "trade guides: shortest leg 2 t + r", true, none});
    rules.push_back(
        {"bend-hole",
         "From the edge of a hole to the start or end of a bend, against 2.5 t + r: nearer, the bend "
         "pulls the hole oval.",
         "mm", none, none, "trade guides: hole edge to bend 2.5 t + r", true, none});
    rules.push_back(
        {"joggle-stress",
         "Yield strength over the stress at the first bend under the stated rod force: square to the "
         "arm bending and twist, 6 F a / (t w^2) and F x rise / (w t^2) (3 + 1.8 t / w), along the arm "
         "F x rise in a curved bar. A rod's load comes in jerks.",
         "", 3.0, 1.0,
         "Shigley, Mechanical Engineering Design: torsion of a rectangle, curved beams; factors: " + practice,
         true, none});
    rules.push_back({"clamp-lug", "Metal between a clamp's pinch bolt and the faces of its lugs.", "mm", 2.0,
                     0.5, "warn: " + practice + "; stop: " + wall_guide, true, none});
    rules.push_back({"web",
                     "Metal between any two cuts in space, drill points taken as cones. The warning is never "
                     "under a quarter of the smaller hole's diameter. Value 0: one opens into the other.",
                     "mm", 0.8, 0.5, wall_guide + "; a quarter diameter: " + practice, true, none});
    rules.push_back({"recess-floor",
                     "Metal under the floor of a recess, relief, hollow or register. The warning is never "
                     "under half the nominal diameter of the bolt that the floor carries.",
                     "mm", 3.0, 1.0, practice, true, none});
    rules.push_back({"hole-floor",
                     "Metal under a blind hole's drill point, to the far face or to a pocket there.", "mm",
                     0.8, 0.5, wall_guide, true, none});
    // Threads and drilling.
    rules.push_back(
        {"thread-engagement",
         "Thread really in metal, what recess, countersink and pockets take away not counted, in nominal "
         "diameters. By material: aluminium 2 d, steel 1.25 d, cast iron and brass 1.5 d, plastic 2.5 d; "
         "stop under 0.8 d in steel, 1.5 d in plastic.",
         "d", 2.0, 1.0,
         "an engine maker's manual; SAE J617, as summarised; general practice, from memory, unverified", true,
         none});
    rules.push_back(
        {"tap-room",
         "Full-diameter drill depth below the last full thread of a blind tapped hole, in pitches: a plug "
         "tap's chamfer is 3 to 5 pitches long, a bottoming tap's 1 to 2, and chips need a place.",
         "pitches", 3.0, 1.0, "ASME B94.9, from memory, unverified", true, none});
    rules.push_back({"long-thread", "A thread longer than the tap likes, in nominal diameters.", "d", 3.0,
                     none, "machining suppliers' design guides: thread over 3 d", true, none});
    rules.push_back({"deep-drill",
                     "Depth drilled in metal, in drill diameters, what recesses and pockets take away not "
                     "counted: over ten the drill wanders and chips pack.",
                     "d", 10.0, none, "machining suppliers' design guides: drill over 10 d", true, none});
    rules.push_back(
        {"look-alike-thread",
         "A thread, or a bolt that a hole lets through, that is easily taken for another (5/16-18 and M8, "
         "3/8-16 and M10): how to tell them apart. It warns where the same part has threads or bolts of the "
         "twin's system too.",
         "", none, none,
         "differences of diameter: trade guides; three M10 threads lost to 3/8 screws: a builder's log",
         false, none});
    // Recesses and registers.
    rules.push_back({"socket-room",
                     "Diameter of a recess less the widest thing that must go in: socket or spanner, washer, "
                     "nut or head.",
                     "mm", 1.0, 0.0, practice + "; outsides of sockets: see the table's row", true, none});
    rules.push_back({"proud-head",
                     "Depth of a recess less the height of head or nut with its washer: under 0 it stands "
                     "proud and the other casting rocks on it.",
                     "mm", 0.0, none, own_reason, true, none});
    rules.push_back({"register-fit",
                     "Least diametral clearance of a register or bore on what it locates, in the shop and "
                     "again 60 K warmer where the two materials differ. Under 0 it is a press, or becomes "
                     "one when the machine is warm.",
                     "mm", 0.0, none, "expansion: the materials table", true, none});
    rules.push_back({"register-slack",
                     "Greatest diametral clearance of a register or bore, against the full indicator reading "
                     "that SAE allows at that size (0.178 mm at the smallest, 0.229 mm at SAE 4): half the "
                     "clearance becomes offset, and the reading is twice the offset.",
                     "mm", none, none,
                     "SAE J617 and J1033, bore and face readings, in a clutch maker's manual", true, none});
    rules.push_back({"register-cut",
                     "A hole, recess or pocket that bites into the edge of a raised register, or leaves a "
                     "thin wall there.",
                     "mm", 0.8, none, wall_guide, true, none});
    // Pockets and outline.
    rules.push_back(
        {"inside-corner",
         "Depth of a pocket or outline in diameters of the cutter that its tightest inside "
         "corner lets in (twice the corner's radius). A sharp corner can't be milled: it stops in "
         "a pocket and warns in the outline, which can be sawn.",
         "d", 5.0, none, cutter_guide, true, 3.0});
    rules.push_back({"deep-hollow",
                     "Depth of a hollow as a share of the thickness: rolled plate pocketed on one side moves "
                     "as its stresses come free.",
                     "", none, none, "machining suppliers' design guides", true, 0.5});
    // Patterns.
    rules.push_back(note_only("pattern-side",
                              "From which side each pattern's positions were taken, said back so that a "
                              "mirrored pattern is seen before it is drilled.",
                              own_reason));
    rules.push_back(note_only("thickness-stack", "The stack whose result gave the thickness, said back.",
                              "the stack's result file"));
    rules.push_back(note_only("survey-suspects",
                              "The survey that a pattern was taken from kept readings that disagree with the "
                              "rest: a stop, since its places may be off by far more than it states.",
                              "the survey's result file"));
    rules.push_back(note_only("survey-bolts-up",
                              "The survey that a pattern was taken from says that it can't bolt up.",
                              "the survey's result file"));
    rules.push_back(note_only("mirrored-pattern",
                              "How many holes of a pattern would also bolt up if it had been drilled "
                              "mirrored, however turned, each within its own clearance, and which hole tells "
                              "the sides apart. It warns where all but one or two would, three at least: a "
                              "trial with a few bolts would not show the mistake.",
                              own_reason));
    rules.push_back(
        {"position-tolerance",
         "Diameter of the position tolerance zone that each pattern needs for its bolts to go in: T = (H - "
         "F) / 2 each part with one part threaded or studded, T = H - F with clearance in both; projected "
         "for a tapped hole. Where a survey measured the other part, what it leaves uncertain (u, two "
         "standard "
         "deviations) stands for that part's tolerance: T = H - F - 2 u, and under 0 it stops. A title "
         "block's general tolerance does not cover a bolt pattern.",
         "mm", 0.1, none, "ASME Y14.5, formulas for fixed and floating fasteners; warn: " + practice, true,
         none});
    // Link rods.
    rules.push_back(final_stop("rod-meets-itself",
                               "A bent rod that runs into itself or back to its own start: its centreline "
                               "comes nearer to itself than its diameter."));
    rules.push_back(
        {"bend-radius",
         "Inside radius of a cold bend in round bar, in diameters of the bar. By material: steel 2 d (3.5 d "
         "over 16 mm), stainless 2.5 d, aluminium and brass 3 d, warm plastic 5 d; cast iron does not bend. "
         "Of a "
         "bend in strip, in its thicknesses, by material and thickness: steel 1 t to 6.35 mm, 1.5 t to 12.7 "
         "mm, "
         "2 t above; aluminium (6061-T6) 2.5 t to 3.2 mm, 3.5 t to 6.35 mm, 4.5 t above.",
         "d", 2.0, 1.0,
         "round bar: BS 8666, from memory, unverified, and trade articles; strip: trade guide after AISI, "
         "published makers' table for 6061-T6",
         true, none});
    rules.push_back({"straight-length",
                     "Straight between two bends of a rod, or between a thread and a bend, in diameters: "
                     "between bends 2 d for the bender to hold, beside a thread 1 d.",
                     "d", 2.0, none, practice, true, none});
    rules.push_back({"adjustment",
                     "Half turns by which a rod's fittings can still be screwed in, or out with one diameter "
                     "of thread left in them, both ends together: the fewer of the two.",
                     "half turns", 2.0, none, practice, true, none});
    rules.push_back({"buckling",
                     "Load at which a rod's shank buckles from pin to pin, both ends pinned (Euler or "
                     "Johnson, whichever governs), over the push it must carry.",
                     "", 3.0, 1.0, "factor 3: " + practice + "; formulas: Machinery's Handbook, columns",
                     true, none});
    rules.push_back(
        {"rod-yield",
         "Yield strength over the greatest stress in a rod under its load: in its shank with what "
         "its bends stand off the line of the pins (secant formula), and in its threads at the "
         "minor diameter.",
         "", 1.5, 1.0, "factor 1.5: " + practice, true, none});
    rules.push_back(
        note_only("bent-rod",
                  "What bends cost: stress 1 + 8 e/d times a straight rod's, e the farthest that "
                  "the centreline stands off the line of the pins, and up to 1 + 16 (e/d)^2 times "
                  "the give.",
                  "straight rods are advised in every handbook; the factors follow from the shape"));
    // Movement.
    rules.push_back({"swing-clearance",
                     "The least room between a swinging lever and what it must keep clear of, over the whole "
                     "swing, its error bound taken off. Without a limit of its own the file's `clearance`; a "
                     "touch always stops.",
                     "mm", none, 0.0, "the parameter file; the distance is certified between angles too",
                     true, none});
    for (Rule& rule : linkage_rules()) rules.push_back(std::move(rule));
    for (Rule& rule : pattern_rules()) rules.push_back(std::move(rule));
    for (Rule& rule : survey_rules()) rules.push_back(std::move(rule));
    for (Rule& rule : stack_rules()) rules.push_back(std::move(rule));
    for (Rule& rule : concentricity_rules()) rules.push_back(std::move(rule));
    // What is made beside the part.
    rules.push_back(note_only("mock-up",
                              "What a printed mock-up can't show or can't hold: features left out, walls too "
                              "thin to print and what is done about them, joints without room for their "
                              "keys, pieces larger than the bed, a piece that can't be made, files of an "
                              "earlier mock-up that are none of it. The part itself is not touched by it.",
                              "the parameter file's mockup; " + practice));
    rules.push_back(
        note_only("print-threads",
                  "How STL and 3MF differ from the part where the file wants modelled threads cut "
                  "away for printing; it stops where what is left is no sound body.",
                  "the parameter file's print"));
    // About the findings themselves.
    rules.push_back(note_only("unverified-figure",
                              "A handbook figure this part depends on (thread, clearance hole, head, nut, "
                              "socket, fit, housing, material) that was recalled and not seen in print: "
                              "measure the thing itself.",
                              "the table's own row"));
    rules.push_back(note_only("override", "A limit that the file's `rules` set in place of the usual one.",
                              "the parameter file"));
    return rules;
}

}  // namespace

std::span<const Rule> all_rules() {
    static const std::vector<Rule> rules = make_rules();
    return rules;
}

const Rule* find_rule(std::string_view name) {
    const auto rules = all_rules();
    const auto found =
        std::find_if(rules.begin(), rules.end(), [name](const Rule& rule) { return rule.name == name; });
    return found == rules.end() ? nullptr : &*found;
}

}  // namespace fitup::rules
