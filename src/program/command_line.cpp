// command_line.cpp: the options, each described once, and how their words become values.
//
// Room: program. Pure.
#include "program/command_line.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

#include "midspan/instrument/length.hpp"
#include "program/documents.hpp"
#include "program/export_command_line.hpp"
#include "program/record_command_line.hpp"
#include "program/words.hpp"

namespace midspan::program {
namespace {

// What it lies on: the same for every command that measures.
constexpr Option scale_length_option{
    "--scale-length",
    "L",
    "nut to nominal saddle line: 648, 25.5in, \"24 3/4 in\"",
    "Scale length, from the nut to the nominal saddle line. A plain number is millimetres; 25.5in and "
    "\"24 3/4 in\" are inches. For a multi-scale instrument give one for each string, low to high, "
    "with commas or by repeating the option. To measure it, double the distance from the nut to the "
    "12th fret.",
    "",
    true};
constexpr Option instrument_option{
    "--instrument", "NAME", "from the setup record, or a TOML file that describes it",
    "The instrument, in place of --scale-length, --tuning, --a4, --thread and --clockwise: its name in the "
    "setup "
    "record, or the path of a TOML file that describes it. The README lists the keys of such a file.",
    ""};
constexpr Option tuning_option{
    "--tuning", "NOTES", "low to high, as a player says it (E2,A2,D3,G3,B3,E4)",
    "The open notes, low to high as a player says them, with commas: 1 to 12 of them. The default is "
    "E2,A2,D3,G3,B3,E4.",
    ""};
constexpr Option a4_option{"--a4", "HZ", "frequency of A4 (440)",
                           "The frequency of A4, 380 to 500 Hz. The default is 440.", ""};
constexpr Option plucks_option{
    "--plucks", "ORDER", "alternate: harmonic, fretted, ... (default); or grouped",
    "The order in which each string was plucked. alternate: harmonic, fretted, harmonic, fretted, and "
    "so on; drift and the warmth of the hand cancel. grouped: all harmonics of a string, then as many "
    "fretted notes. The default is alternate.",
    "alternate grouped"};
constexpr Option string_option{
    "--string", "N", "the string a recording holds: one for all, or N,N,...",
    "The string each recording holds, 1 the highest: one number for all recordings, or one for each "
    "with commas. Needed only where the pitch alone cannot tell two strings apart.",
    ""};
constexpr Option channel_option{
    "--channel", "N", "listen to this channel (default: by its signal)",
    "The channel to listen to, 1 the first. By default the one that carries the strings is chosen, "
    "and the result says which.",
    ""};
constexpr Option thread_option{
    "--thread", "PITCH", "of the saddle screws, for turns: M3, 6-32, 0.5",
    "The thread of the saddle screws, so that moves are given in turns: M2, M2.5, M3, M4, 4-40, 5-40, "
    "6-32, 8-32, 10-32, or the pitch in millimetres.",
    ""};
constexpr Option clockwise_option{
    "--clockwise", "WAY", "a clockwise turn moves a saddle toward-tail or -nut",
    "Which way a clockwise turn of the screw moves the saddle on this bridge, toward-tail or "
    "toward-nut, so that turns are given as clockwise or counter-clockwise.",
    "toward-tail toward-nut"};
constexpr Option tolerance_option{
    "--tolerance", "CENTS", "good enough within this (1.5)",
    "How many cents of error at the 12th fret are good enough, 0.01 to 50. The default is 1.5.", ""};
constexpr Option units_option{
    "--units", "UNIT", "mm (default) or inch",
    "Lengths in the readable result: mm, or inch with the nearest 64th. JSON is always in millimetres.",
    "mm inch"};
constexpr Option json_option{
    "--json", "", "one JSON object on stdout, schema midspan/analysis/1",
    "Write the result as one JSON object, schema midspan/analysis/1, and nothing else. The README "
    "describes it.",
    ""};
constexpr Option no_record_option{
    "--no-record", "", "write nothing to the setup record",
    "Write nothing to the setup record. Without it, what was measured of an instrument named by --instrument "
    "goes to its open visit.",
    ""};
constexpr Option record_option{
    "--record", "FILE", "another setup record than your own",
    "The file of the setup record. The default is the file $MIDSPAN_RECORD names, and else "
    "midspan/record.sqlite in the user's data folder.",
    ""};

constexpr std::array analyze_options{scale_length_option, instrument_option, tuning_option,  a4_option,
                                     plucks_option,       string_option,     channel_option, thread_option,
                                     clockwise_option,    tolerance_option,  units_option,   json_option,
                                     record_option,       no_record_option};

constexpr Option device_option{
    "--device", "DEVICE", "number or part of the name, see midspan devices",
    "The input to listen to: its number, or part of its name, as midspan devices lists them. The default is "
    "the one marked there.",
    ""};
constexpr Option keep_option{
    "--keep", "FILE", "also write what was heard, .wav or .flac",
    "Also write what was heard to this file, a new one: 32-bit float in a .wav, 24 bits in a .flac. "
    "midspan analyze finds the same in it.",
    ""};
constexpr Option say_option{"--say", "", "speak results and next steps (needs espeak-ng)",
                            "Speak results and next steps, with espeak-ng, which has to be installed.", ""};
constexpr Option plucked_string_option{
    "--string", "N", "only this string is plucked",
    "The only string that is plucked, 1 the highest. Needed only where the pitch alone cannot tell two "
    "strings apart.",
    ""};
constexpr Option plucks_in_turn_option{
    "--plucks", "ORDER", "alternate: harmonic, fretted, ...",
    "The order in which each string is plucked: alternate, the only one there is when midspan listens.",
    "alternate"};
constexpr Option events_option{"--json", "", "one JSON object a line and event on stdout",
                               "Write one JSON object a line for every event, and as the last line the "
                               "object midspan analyze writes. The "
                               "README describes them.",
                               ""};
constexpr Option devices_json_option{
    "--json", "", "one JSON object on stdout, schema midspan/devices/1",
    "Write the list as one JSON object, schema midspan/devices/1, and nothing else.", ""};

constexpr std::array devices_options{devices_json_option};
constexpr std::array listen_options{
    scale_length_option, instrument_option, device_option,         keep_option,           say_option,
    tuning_option,       a4_option,         plucks_in_turn_option, plucked_string_option, channel_option,
    thread_option,       clockwise_option,  tolerance_option,      units_option,          events_option,
    record_option,       no_record_option};

constexpr Option json_record_option{"--json", "", "one JSON object on stdout, schema midspan/record/1",
                                    "Write one JSON object, schema midspan/record/1, and nothing else.", ""};
constexpr Option yes_option{"--yes", "", "do not ask", "Do not ask whether it is meant so.", ""};
constexpr Option file_option{
    "--file", "FILE", "a TOML file that describes it",
    "A TOML file that describes the instrument; other options change what it says. The "
    "README lists its keys.",
    ""};
constexpr Option kind_option{"--kind", "KIND", "electric (default), acoustic, classical, bass, other",
                             "What kind of instrument it is.", "electric acoustic classical bass other"};
constexpr Option packet_option{"--strings", "TEXT", "what the packet calls them: \"10-46 nickel\"",
                               "The strings that are fitted, as their packet calls them.", ""};
constexpr Option packet_gauges_option{
    "--gauges", "LIST", "string 1 first: 10,13,17,26w,36w,46w",
    "The gauges of the strings, string 1 first as the packet lists them, in thousandths of an inch or with a "
    "unit. p is plain, w is wound, w/18 wound on a core of 18; ? is not known.",
    ""};
constexpr Option frets_option{"--frets", "N", "how many", "How many frets it has.", ""};
constexpr Option radius_option{"--radius", "L", "of the fingerboard: 9.5in", "The radius of the fingerboard.",
                               ""};
constexpr Option bridge_option{
    "--bridge", "KIND", "individual-saddles (default), shared-saddles, one-piece",
    "What the strings run over: a saddle for each, saddles that two or three share, or one for all.",
    "individual-saddles shared-saddles one-piece"};
constexpr Option travel_option{
    "--travel", "L,L", "free way toward nut and tail: 3,1.5",
    "How far a saddle can still go toward the nut and toward the tail; either may be left empty.", ""};
constexpr Option left_handed_option{"--left-handed", "", "strung the other way round",
                                    "It is strung for the left hand.", ""};
constexpr Option instrument_notes_option{"--notes", "TEXT", "anything else",
                                         "Anything else there is to know about it.", ""};
constexpr Option new_name_option{"--name", "NAME", "a new name", "The name it is to have from now on.", ""};
constexpr Option names_option{"--names", "", "nothing but the names, one a line",
                              "Write nothing but the names, one a line.", ""};
constexpr Option deleted_option{"--deleted", "", "those that can be restored",
                                "List the instruments that were deleted and can be restored.", ""};
constexpr Option of_instrument_option{"--instrument", "NAME",
                                      "which one; may be left out when one visit is open",
                                      "The instrument, by its name in the record. Where only one visit is "
                                      "open, its instrument is meant and this "
                                      "may be left out.",
                                      ""};
constexpr Option day_option{"--day", "DATE", "of the visit (today): 2026-03-14",
                            "The day of the visit, as year, month and day. The default is today.", ""};
constexpr Option who_option{"--who", "NAME", "who does the work", "Who does the work.", ""};
constexpr Option fitted_option{"--fitted", "DATE", "when the strings were fitted",
                               "The day on which the strings were fitted.", ""};
constexpr Option temperature_option{"--temperature", "DEGREES", "of the room, Celsius",
                                    "The temperature of the room in degrees Celsius.", ""};
constexpr Option humidity_option{"--humidity", "PERCENT", "of the room",
                                 "The relative humidity of the room in percent.", ""};
constexpr Option done_option{"--done", "TEXT", "what was done",
                             "What was done; it is put behind what was said before.", ""};
constexpr Option visit_note_option{"--note", "TEXT", "anything else",
                                   "Anything else; it is put behind what was said before.", ""};
constexpr Option visit_option{"--visit", "N", "its number (the open one, or the last)",
                              "The number of the visit. The default is the open one, and else the last.", ""};
constexpr Option toward_option{"--toward", "WAY", "tail or nut", "The way the saddle went: tail or nut.",
                               "tail nut"};
constexpr Option turns_option{"--turns", "N", "of its screw: 1.25, \"1 1/4\"", "The turns of its screw.", ""};
constexpr Option by_option{"--by", "L", "how far: 0.6, 0.025in", "How far the saddle went.", ""};
constexpr Option held_option{
    "--held", "FRETS", "where the string was held: 1,last or 3",
    "The frets the string was held at while measuring, with commas; last is the last "
    "fret.",
    ""};
constexpr Option read_at_option{"--read-at", "FRET", "where it was read",
                                "The fret at which it was read, or whose height it is.", ""};
constexpr Option capo_option{"--capo", "FRET", "where a capo was", "The fret at which a capo was.", ""};
constexpr Option at_string_option{"--string", "N", "at which string, 1 the highest",
                                  "The string at which it was measured, 1 the highest.", ""};
constexpr Option pickup_option{"--pickup", "NAME", "which one: neck, middle, bridge",
                               "The pickup whose height it is.", ""};
constexpr Option tool_option{"--tool", "TEXT", "feeler gauge, straightedge, ruler",
                             "What it was measured with.", ""};
constexpr Option measured_note_option{"--note", "TEXT", "anything else", "Anything else about the number.",
                                      ""};
constexpr Option measured_yes_option{"--yes", "", "record it even if a decimal looks slipped",
                                     "Record it without asking even if the decimal point looks slipped.", ""};
constexpr Option visits_option{
    "--visits", "N,N", "two visits, as they were left",
    "The numbers of two visits, the earlier first; how they were left is compared.", ""};
constexpr Option history_string_option{"--string", "N", "which string, 1 the highest",
                                       "The string, 1 the highest.", ""};
constexpr Option history_json_option{"--json", "", "one JSON object on stdout, schema midspan/history/1",
                                     "Write one JSON object, schema midspan/history/1, and nothing else.",
                                     ""};

constexpr Option output_option{
    "--output",
    "FILE",
    "where to write it; - is standard output (default)",
    "The file to write, in place of what it held. - is standard output, the default.",
    "",
    false,
    "-o"};
constexpr Option sheet_visit_option{"--visit", "N", "which visit (the last)",
                                    "The number of the visit. The default is the last.", ""};
constexpr Option svg_option{"--svg", "", "the pictures alone, as one SVG file",
                            "Write the pictures alone, as one SVG file.", ""};
constexpr Option export_instrument_option{"--instrument", "NAME", "this one alone",
                                          "Export this instrument alone. The default is everything, deleted "
                                          "instruments too.",
                                          ""};
constexpr Option csv_option{
    "--csv", "TABLE", "readings, measurements or surveys, as one flat table",
    "Write one flat table as CSV (RFC 4180) in place of JSON: readings has a row for each "
    "string of each reading, measurements one for each number of the bench, surveys one for each note of "
    "each survey. Deleted instruments are not in it.",
    "readings measurements surveys"};

constexpr std::array sheet_options{sheet_visit_option, output_option, svg_option, units_option,
                                   record_option};
constexpr std::array export_options{export_instrument_option, csv_option, output_option, record_option};
constexpr std::array import_options{record_option};
constexpr std::array instrument_add_options{
    file_option,   scale_length_option, tuning_option,      thread_option,           clockwise_option,
    travel_option, kind_option,         packet_option,      packet_gauges_option,    frets_option,
    radius_option, bridge_option,       left_handed_option, instrument_notes_option, record_option};
constexpr std::array instrument_change_options{
    new_name_option, scale_length_option, tuning_option,      thread_option,           clockwise_option,
    travel_option,   kind_option,         packet_option,      packet_gauges_option,    frets_option,
    radius_option,   bridge_option,       left_handed_option, instrument_notes_option, record_option};
constexpr std::array instrument_list_options{names_option, deleted_option, json_record_option, record_option};
constexpr std::array show_options{units_option, json_record_option, record_option};
constexpr std::array delete_options{yes_option, record_option};
constexpr std::array restore_options{record_option};
constexpr std::array visit_details_options{of_instrument_option, day_option,           who_option,
                                           packet_option,        packet_gauges_option, fitted_option,
                                           temperature_option,   humidity_option,      done_option,
                                           visit_note_option,    record_option};
constexpr std::array visit_list_options{of_instrument_option, json_record_option, record_option};
constexpr std::array visit_show_options{of_instrument_option, visit_option, units_option, json_record_option,
                                        record_option};
constexpr std::array visit_moved_options{of_instrument_option, toward_option, turns_option, by_option,
                                         visit_note_option,    record_option};
constexpr std::array visit_remove_options{of_instrument_option, visit_option, yes_option, record_option};
constexpr std::array visit_restore_options{of_instrument_option, visit_option, record_option};
constexpr std::array measure_options{
    of_instrument_option, held_option, read_at_option,       capo_option,         at_string_option,
    pickup_option,        tool_option, measured_note_option, measured_yes_option, record_option};
constexpr std::array compare_options{of_instrument_option, visits_option, units_option, json_record_option,
                                     record_option};
constexpr std::array history_options{of_instrument_option, history_string_option, history_json_option,
                                     record_option};

constexpr Option gauges_option{
    "--gauges", "LIST", "strings now on: 10,13,17,26w/13,36w,46w; w is wound",
    "The gauges of the steel strings now on, with commas: thousandths of an inch, or millimetres as 0.25mm; "
    "a "
    "wound string has a w behind it and, where its core is known, a slash and the core. Thin to thick, or in "
    "the order of the tuning.",
    ""};
constexpr Option action_option{
    "--action", "L", "open string over fret 12 (1.8)",
    "Height of the open string over the 12th fret, up to 10 mm. The default is 1.8.", ""};
constexpr Option nut_height_option{
    "--nut-height", "L", "strings over the line of the frets at the nut (0.5)",
    "Height of the strings at the nut over the line of the fret tops, up to 3 mm. The default is 0.5.", ""};
constexpr Option relief_option{"--relief", "L", "mid-way between frets 1 and 17 (0.2)",
                               "Relief of the neck, measured mid-way between frets 1 and 17, up to 2 mm. The "
                               "default is 0.2.",
                               ""};
constexpr Option to_gauges_option{"--to-gauges", "LIST", "other strings",
                                  "The gauges that are to come, as --gauges.", ""};
constexpr Option to_tuning_option{"--to-tuning", "NOTES", "another tuning",
                                  "The tuning that is to come, as --tuning.", ""};
constexpr Option to_action_option{"--to-action", "L", "another action",
                                  "The action that is to come, as --action.", ""};
constexpr Option to_nut_height_option{"--to-nut-height", "L", "another height at the nut",
                                      "The height at the nut that is to come, as --nut-height.", ""};
constexpr Option to_relief_option{"--to-relief", "L", "another relief",
                                  "The relief that is to come, as --relief.", ""};
constexpr Option prediction_json_option{
    "--json", "", "one JSON object on stdout, schema midspan/prediction/1",
    "Write the result as one JSON object, schema midspan/prediction/1, and nothing else. The README "
    "describes it.",
    ""};
constexpr std::array predict_options{
    gauges_option,    scale_length_option,  instrument_option, tuning_option,    a4_option,
    action_option,    nut_height_option,    relief_option,     to_gauges_option, to_tuning_option,
    to_action_option, to_nut_height_option, to_relief_option,  units_option,     prediction_json_option};
constexpr Option surveyed_frets_option{
    "--frets", "N", "frets the neck has (22)",
    "How many frets the neck has, 12 to 36. The default is what the setup record says, and else 22.", ""};
constexpr Option surveyed_capo_option{
    "--capo", "N", "the fret a capo sits on",
    "The fret a capo sits on. What rings open is then fretted there, and the capo "
    "stands in the nut's place.",
    ""};
constexpr Option reference_option{
    "--reference", "NOTE", "measure frets from open (default if plucked) or harmonic",
    "The note a string's frets are measured from: open, or harmonic, the one touched over the 12th fret. By "
    "default the open string where it was plucked, else its harmonic.",
    "open harmonic"};
constexpr Option weight_option{
    "--weight", "FRETS", "whole-neck (default), first-position, or fret:weight,...",
    "Which frets count, and how much, for the best places of saddle and nut: whole-neck, all plucked frets "
    "alike; first-position, frets 1 to 4 four times as much as 5 to 12, the others hardly; or fret:weight "
    "with commas, such as 1:2,3:2,12:1, where no other fret counts.",
    ""};
constexpr Option target_option{
    "--target", "FILE", "cents wanted at each fret, a line each: 7 -1.5",
    "A file of cents wanted at each fret in place of equal temperament: a line for "
    "each, the fret and its cents, such as 7 -1.5. # begins a comment.",
    ""};
constexpr Option surveyed_bridge_option{
    "--bridge", "KIND", "individual-saddles (default), shared-saddles, one-piece",
    "How the saddles hang together: individual-saddles; shared-saddles, where strings 1 and 2 have one "
    "together, and so on; or one-piece, a straight one that is set at both ends. For the last two the best "
    "compromise is told. The default is what the setup record says, and else individual-saddles.",
    "individual-saddles shared-saddles one-piece"};
constexpr Option listen_option{"--listen", "", "listen to a microphone until Ctrl-C",
                               "Listen to a microphone or cable instead of recordings; Ctrl-C ends it with "
                               "the result.",
                               ""};
constexpr Option picture_option{"--picture", "FILE", "also write the neck as an SVG drawing",
                                "Also write the drawing of the neck to this file, as SVG.", ""};
constexpr Option survey_json_option{
    "--json", "", "one JSON object on stdout, schema midspan/survey/1",
    "Write the result as one JSON object, schema midspan/survey/1, and nothing "
    "else. The README describes it.",
    ""};
constexpr std::array survey_options{
    scale_length_option, instrument_option, tuning_option, gauges_option, action_option, nut_height_option,
    relief_option, surveyed_frets_option, surveyed_capo_option, string_option, reference_option,
    weight_option, surveyed_bridge_option, listen_option, picture_option, survey_json_option,
    // By name alone in the help
    a4_option, target_option, channel_option, device_option, units_option, record_option, no_record_option};
constexpr std::size_t survey_options_by_name = 7;
constexpr std::array described{
    CommandDescription{"analyze", "analyze [OPTIONS] RECORDING...",
                       "How far each saddle must move, from harmonics and fretted notes.", analyze_options,
                       "RECORDING is any sound file, or - for standard input.",
                       "  midspan analyze test_audio/six-strings.wav --scale-length 648\n"
                       "  midspan analyze test_audio/six-strings.wav --scale-length 25.5in --thread M3\n",
                       "RECORDING"},
    CommandDescription{"listen", "listen [OPTIONS]",
                       "The same live, from a microphone or cable; Ctrl-C ends it.", listen_options, "",
                       "  midspan listen --scale-length 25.5in --thread 6-32 --keep take.wav\n"},
    CommandDescription{"predict", "predict [OPTIONS]",
                       "What other strings, tuning or action will do, before it is done.", predict_options,
                       "",
                       "  midspan predict --scale-length 648 --gauges 9,11,16,24w,32w,42w "
                       "--to-action 2\n"},
    CommandDescription{"survey", "survey [OPTIONS] RECORDING...",
                       "What is wrong with a neck: saddle, nut, fret or string.", survey_options, "",
                       "  midspan survey test_audio/neck.flac --scale-length 648\n", "RECORDING",
                       survey_options_by_name},
    CommandDescription{"devices", "devices [--json]", "The inputs there are to listen to.", devices_options,
                       "", "  midspan devices\n"},
    CommandDescription{"instrument add", "instrument add NAME [OPTIONS]",
                       "Adds an instrument to the setup record.", instrument_add_options, "",
                       "  midspan instrument add 'Bench guitar' --scale-length 25.5in --thread M3\n", "NAME"},
    CommandDescription{"instrument change", "instrument change NAME [OPTIONS]",
                       "Changes what the record says about an instrument.", instrument_change_options, "",
                       "  midspan instrument change 'Bench guitar' --gauges 10,13,17,26w,36w,46w\n", "NAME"},
    CommandDescription{"instrument list", "instrument list [OPTIONS]", "The instruments in the record.",
                       instrument_list_options, "", "  midspan instrument list\n"},
    CommandDescription{"instrument show", "instrument show NAME [OPTIONS]",
                       "An instrument, its saddles and its visits.", show_options, "",
                       "  midspan instrument show 'Bench guitar'\n", "NAME"},
    CommandDescription{"instrument delete", "instrument delete NAME [OPTIONS]",
                       "Takes an instrument out of the record; it can be restored.", delete_options, "",
                       "  midspan instrument delete 'Bench guitar' --yes\n", "NAME"},
    CommandDescription{"instrument restore", "instrument restore NAME [OPTIONS]",
                       "Brings a deleted instrument back, with its visits.", restore_options, "",
                       "  midspan instrument restore 'Bench guitar'\n", "NAME"},
    CommandDescription{"visit begin", "visit begin --instrument NAME [OPTIONS]",
                       "Begins a visit; what is measured from now on goes to it.", visit_details_options, "",
                       "  midspan visit begin --instrument 'Bench guitar' --temperature 21\n"},
    CommandDescription{"visit note", "visit note [OPTIONS]", "Adds to what is said about the open visit.",
                       visit_details_options, "", "  midspan visit note --done 'fret 7 seated'\n"},
    CommandDescription{"visit moved", "visit moved STRING --toward WAY [OPTIONS]",
                       "Notes how a saddle was moved.", visit_moved_options, "",
                       "  midspan visit moved 6 --toward tail --turns \"1 1/4\"\n", "STRING"},
    CommandDescription{"visit list", "visit list --instrument NAME [OPTIONS]", "The visits of an instrument.",
                       visit_list_options, "", "  midspan visit list --instrument 'Bench guitar'\n"},
    CommandDescription{"visit show", "visit show [OPTIONS]", "Everything that belongs to a visit.",
                       visit_show_options, "", "  midspan visit show\n"},
    CommandDescription{"measure", "measure WHAT LENGTH [OPTIONS]",
                       "Records relief, action or a height, with the way it was measured.", measure_options,
                       "WHAT is relief, action, nut-height, fret-height or pickup-height.",
                       "  midspan measure relief 0.010in --held 1,last --read-at 7\n"
                       "  midspan measure action 4/64in --string 6 --read-at 12\n",
                       "WHAT"},
    CommandDescription{"visit remove", "visit remove WHAT N [OPTIONS]",
                       "Takes a mistake out of a visit; it can be restored.", visit_remove_options,
                       "WHAT is measurement, reading, survey or move; visit show tells N, its number.",
                       "  midspan visit remove measurement 2 --yes\n", "WHAT"},
    CommandDescription{"visit restore", "visit restore WHAT N [OPTIONS]",
                       "Brings back what was taken out of a visit.", visit_restore_options,
                       "WHAT is measurement, reading, survey or move; visit show tells N, its number.",
                       "  midspan visit restore measurement 2\n", "WHAT"},
    CommandDescription{"visit end", "visit end [OPTIONS]", "Ends the open visit.", visit_details_options, "",
                       "  midspan visit end --done 'full setup'\n"},
    CommandDescription{"compare", "compare [OPTIONS]",
                       "Before and after of a visit, or two visits beside each other.", compare_options, "",
                       "  midspan compare --instrument 'Bench guitar'\n"},
    CommandDescription{"history", "history --instrument NAME --string N [OPTIONS]",
                       "All readings of one string, visit by visit.", history_options, "",
                       "  midspan history --instrument 'Bench guitar' --string 6\n"},
    CommandDescription{"sheet", "sheet [INSTRUMENT] [OPTIONS]",
                       "A visit on paper, as one HTML page for whoever plays it.", sheet_options, "",
                       "  midspan sheet 'Bench guitar' --output sheet.html\n", "INSTRUMENT"},
    CommandDescription{"export", "export [OPTIONS]",
                       "The record as JSON, schema midspan/record/1, or as CSV.", export_options, "",
                       "  midspan export --output record.json\n"},
    CommandDescription{"import", "import FILE [OPTIONS]", "Takes in what was exported, whole or not at all.",
                       import_options, "FILE is what midspan export wrote, or - for standard input.",
                       "  midspan import tools/schemas/example-record.json\n", "FILE"},
};

Result<Saddle> saddle_of(const Words& words) {
    Saddle saddle;
    if (const auto text = word(words, "--thread")) {
        const auto pitch = parse_thread_pitch(*text);
        if (!pitch) return pitch.error();
        saddle.thread_pitch = pitch.value();
    }
    if (const auto text = word(words, "--clockwise")) {
        const auto choice = choice_of("--clockwise", *text, {"toward-tail", "toward-nut"});
        if (!choice) return choice.error();
        saddle.clockwise_is_toward_tail = choice.value() == 0;
    }
    return saddle;
}

Result<Instrument> described_instrument(const Words& words) {
    std::vector<Millimetres> scale_lengths;
    for (const std::string& list : words.at("--scale-length")) {
        for (const std::string_view text : split(list)) {
            const auto length = parse_scale_length(text);
            if (!length) return length.error();
            scale_lengths.push_back(length.value());
        }
    }
    Hertz a4{440.0};
    if (const auto text = word(words, "--a4")) {
        const auto value = number_of("--a4", *text, lowest_a4.value(), highest_a4.value(),
                                     "give hertz: 440 is standard, 415 baroque");
        if (!value) return value.error();
        a4 = Hertz{value.value()};
    }
    const auto saddle = saddle_of(words);
    if (!saddle) return saddle.error();
    return make_instrument(word(words, "--tuning").value_or(standard_tuning), scale_lengths, a4,
                           saddle.value());
}

Result<GivenInstrument> instrument_of(const CommandDescription& command, const Words& words) {
    const auto file = word(words, "--instrument");
    if (!file) {
        if (words.at("--scale-length").empty()) {
            return usage(std::string{command.name}, "no scale length",
                         "double the distance from nut to 12th fret and give it as --scale-length, or give "
                         "--instrument NAME");
        }
        auto instrument = described_instrument(words);
        if (!instrument) return instrument.error();
        return GivenInstrument{std::move(instrument).value()};
    }
    for (const std::string_view other : {"--scale-length", "--tuning", "--a4", "--thread", "--clockwise"}) {
        if (!words.contains(other) || words.at(other).empty()) continue;
        return usage(std::string{other}, "the instrument file says that already",
                     fmt::format("write it into {}, or leave --instrument out", *file));
    }
    return GivenInstrument{InstrumentFile{std::string{*file}}};
}

Result<std::vector<int>> strings_of(const Words& words, std::size_t recordings) {
    std::vector<int> strings;
    const auto list = word(words, "--string");
    if (!list) return strings;
    for (const std::string_view text : split(*list)) {
        const auto string = number<int>(text);
        if (!string || *string < 1) {
            return usage(fmt::format("--string {}", *list), "no string number",
                         "count from 1, the highest: --string 6, or one a recording: --string 6,5,4");
        }
        strings.push_back(*string);
    }
    if (strings.size() != 1 && strings.size() != recordings) {
        return usage(fmt::format("--string {}", *list),
                     fmt::format("{} strings for {} recordings", strings.size(), recordings),
                     "give one number for all recordings, or one for each");
    }
    return strings;
}

Result<std::optional<int>> channel_of(const Words& words) {
    const auto text = word(words, "--channel");
    if (!text) return std::optional<int>{};
    const auto channel = number<int>(*text);
    if (!channel || *channel < 1) {
        return usage(fmt::format("--channel {}", *text), "no channel number", "count from 1, the first");
    }
    return channel;
}

Result<MeasurementOptions> measurement_of(const Words& words) {
    MeasurementOptions options;
    if (const auto text = word(words, "--plucks")) {
        const auto choice = choice_of("--plucks", *text, {"alternate", "grouped"});
        if (!choice) return choice.error();
        options.order = choice.value() == 0 ? PluckOrder::alternate : PluckOrder::grouped;
    }
    if (const auto text = word(words, "--tolerance")) {
        const auto cents = number_of("--tolerance", *text, 0.01, 50.0, "give cents: 1.5 is common practice");
        if (!cents) return cents.error();
        options.tolerance = Cents{cents.value()};
    }
    const auto channel = channel_of(words);
    if (!channel) return channel.error();
    options.channel = channel.value();
    return options;
}

RecordUse record_use_of(const Words& words) {
    return {record_file_of(words), words.at("--no-record").empty()};
}

Result<Command> analyze_command(const CommandDescription& command, const Words& words) {
    if (words.at("").empty()) {
        return usage("analyze", "no recording", "name a sound file, or - for standard input");
    }
    auto instrument = instrument_of(command, words);
    if (!instrument) return instrument.error();
    const auto measurement = measurement_of(words);
    if (!measurement) return measurement.error();
    const auto strings = strings_of(words, words.at("").size());
    if (!strings) return strings.error();
    const auto unit = unit_of(words);
    if (!unit) return unit.error();
    return Command{AnalyzeOptions{words.at(""), strings.value(), std::move(instrument).value(),
                                  record_use_of(words), measurement.value(), unit.value(),
                                  !words.at("--json").empty()}};
}

Result<Command> listen_command(const CommandDescription& command, const Words& words) {
    auto instrument = instrument_of(command, words);
    if (!instrument) return instrument.error();
    const auto measurement = measurement_of(words);
    if (!measurement) return measurement.error();
    if (measurement.value().order == PluckOrder::grouped) {
        return usage("--plucks grouped", "is for recordings",
                     "pluck harmonic and fretted note in turn when midspan listens");
    }
    const auto unit = unit_of(words);
    if (!unit) return unit.error();
    BenchOptions bench{measurement.value().tolerance, measurement.value().channel, {}, {}};
    if (const auto text = word(words, "--string")) {
        bench.string = number<int>(*text);
        if (!bench.string) {
            return usage(fmt::format("--string {}", *text), "no string number", "count from 1, the highest");
        }
    }
    ListenOptions options{{},    {},           std::move(instrument).value(), record_use_of(words),
                          bench, unit.value(), !words.at("--json").empty(),   !words.at("--say").empty()};
    if (const auto device = word(words, "--device")) options.device = *device;
    if (const auto file = word(words, "--keep")) options.keep = *file;
    return Command{std::move(options)};
}

/// A height between 0 and `most`.
Result<std::optional<Millimetres>> height_of(const Words& words, std::string_view option, Millimetres most) {
    const auto text = word(words, option);
    if (!text) return std::optional<Millimetres>{};
    const auto height = parse_length(*text);
    if (!height) return height.error();
    if (!(height.value() >= Millimetres{0.0} && height.value() <= most)) {
        return usage(fmt::format("{} {}", option, *text), fmt::format("outside 0 to {:g} mm", most.value()),
                     "give millimetres, or inches as 0.07in");
    }
    return std::optional{height.value()};
}

/// What is said of a setup by the options that begin with `to`: "--" or "--to-".
Result<SetupWords> setup_words_of(const Words& words, const std::string& to) {
    SetupWords setup;
    if (const auto list = word(words, to + "gauges")) {
        for (const std::string_view text : split(*list)) {
            const auto gauge = parse_gauge(text);
            if (!gauge) return gauge.error();
            setup.gauges.push_back(gauge.value());
        }
    }
    const auto action = height_of(words, to + "action", highest_action);
    if (!action) return action.error();
    setup.action = action.value();
    const auto nut = height_of(words, to + "nut-height", highest_nut);
    if (!nut) return nut.error();
    setup.nut_height = nut.value();
    const auto relief = height_of(words, to + "relief", deepest_relief);
    if (!relief) return relief.error();
    setup.relief = relief.value();
    return setup;
}

Result<Command> predict_command(const CommandDescription& command, const Words& words) {
    // An instrument of the record has its own.
    if (words.at("--gauges").empty() && words.at("--instrument").empty()) {
        return usage("predict", "no gauges", "name the strings that are on: --gauges 10,13,17,26w,36w,46w");
    }
    auto instrument = instrument_of(command, words);
    if (!instrument) return instrument.error();
    auto from = setup_words_of(words, "--");
    if (!from) return from.error();
    auto to = setup_words_of(words, "--to-");
    if (!to) return to.error();
    if (const auto tuning = word(words, "--to-tuning")) to.value().tuning = *tuning;
    const auto unit = unit_of(words);
    if (!unit) return unit.error();
    return Command{PredictOptions{std::move(instrument).value(), std::move(from).value(),
                                  std::move(to).value(), unit.value(), !words.at("--json").empty()}};
}

/// A count between two bounds; `none` where the option was not given.
Result<int> count_of(const Words& words, std::string_view option, int none, int least, int most) {
    const auto text = word(words, option);
    if (!text) return none;
    const auto value = number<int>(*text);
    if (!value || *value < least || *value > most) {
        return usage(fmt::format("{} {}", option, *text), "no such number of frets",
                     fmt::format("give {} to {}", least, most));
    }
    return *value;
}

constexpr int last_fret = 36;

Result<std::vector<FretWeight>> weights_of(const Words& words) {
    std::vector<FretWeight> weights;
    const auto text = word(words, "--weight");
    if (!text || *text == "whole-neck") return weights;
    if (*text == "first-position") {
        for (int fret = 1; fret <= last_fret; ++fret)
            weights.push_back({fret, fret <= 4 ? 1.0 : fret <= 12 ? 0.25 : 0.05});
        return weights;
    }
    for (const std::string_view part : split(*text)) {
        const std::size_t colon = std::min(part.find(':'), part.size());
        const auto fret = number<int>(part.substr(0, colon));
        const auto weight = number<double>(part.substr(std::min(colon + 1, part.size())));
        const bool sense =
            fret && weight && *fret >= 1 && *fret <= last_fret && *weight >= 0.0 && std::isfinite(*weight);
        if (!sense) {
            return usage(
                fmt::format("--weight {}", *text), fmt::format("'{}' is no fret with its weight", part),
                "write whole-neck, first-position, or fret:weight with commas, such as 1:2,3:2,12:1");
        }
        weights.push_back({*fret, *weight});
    }
    if (std::none_of(weights.begin(), weights.end(), [](const FretWeight& w) { return w.weight > 0.0; })) {
        return usage(fmt::format("--weight {}", *text), "no fret counts", "give one fret a weight above 0");
    }
    return weights;
}

Result<SurveyOptions> survey_of(const Words& words) {
    SurveyOptions options;
    const auto channel = channel_of(words);
    if (!channel) return channel.error();
    options.channel = channel.value();
    const auto frets = count_of(words, "--frets", options.neck.frets, 12, last_fret);
    if (!frets) return frets.error();
    options.neck.frets = frets.value();
    const auto capo = count_of(words, "--capo", 0, 0, options.neck.frets - 1);
    if (!capo) return capo.error();
    options.capo = capo.value();
    if (const auto text = word(words, "--reference")) {
        const auto choice = choice_of("--reference", *text, {"open", "harmonic"});
        if (!choice) return choice.error();
        options.reference = choice.value() == 0 ? SurveyReference::open : SurveyReference::harmonic;
    }
    if (const auto text = word(words, "--bridge")) {
        const auto choice =
            choice_of("--bridge", *text, {"individual-saddles", "shared-saddles", "one-piece"});
        if (!choice) return choice.error();
        options.neck.bridge = static_cast<SaddleSharing>(choice.value());
    }
    auto weights = weights_of(words);
    if (!weights) return weights.error();
    options.neck.weights = std::move(weights).value();
    return options;
}

Result<Command> survey_command(const CommandDescription& command, const Words& words) {
    const bool listen = !words.at("--listen").empty();
    if (words.at("").empty() && !listen) {
        return usage("survey", "no recording", "name a sound file, - for standard input, or say --listen");
    }
    if (!words.at("").empty() && listen) {
        return usage("--listen", "there are recordings too", "name recordings, or say --listen");
    }
    if (!listen && !words.at("--device").empty()) {
        return usage("--device", "nothing is listened to", "say --listen as well");
    }
    auto instrument = instrument_of(command, words);
    if (!instrument) return instrument.error();
    auto setup = setup_words_of(words, "--");
    if (!setup) return setup.error();
    auto survey = survey_of(words);
    if (!survey) return survey.error();
    const auto strings = strings_of(words, listen ? 1 : words.at("").size());
    if (!strings) return strings.error();
    const auto unit = unit_of(words);
    if (!unit) return unit.error();
    SurveyCommandOptions options{words.at(""),
                                 strings.value(),
                                 listen,
                                 {},
                                 std::move(instrument).value(),
                                 std::move(setup).value(),
                                 std::move(survey).value(),
                                 !words.at("--frets").empty(),
                                 !words.at("--bridge").empty(),
                                 record_use_of(words),
                                 {},
                                 {},
                                 unit.value(),
                                 !words.at("--json").empty()};
    if (const auto device = word(words, "--device")) options.device = *device;
    if (const auto file = word(words, "--target")) options.target = *file;
    if (const auto file = word(words, "--picture")) options.picture = *file;
    return Command{std::move(options)};
}

Result<Command> devices_command(const CommandDescription&, const Words& words) {
    return Command{DevicesOptions{!words.at("--json").empty()}};
}

/// What makes a command of its words, in the order of `described`.
using FromWords = Result<Command> (*)(const CommandDescription& command, const Words& words);
constexpr std::array<FromWords, described.size()> from_words{analyze_command,
                                                             listen_command,
                                                             predict_command,
                                                             survey_command,
                                                             devices_command,
                                                             instrument_add_command,
                                                             instrument_change_command,
                                                             instrument_list_command,
                                                             instrument_show_command,
                                                             instrument_delete_command,
                                                             instrument_restore_command,
                                                             visit_begin_command,
                                                             visit_note_command,
                                                             visit_moved_command,
                                                             visit_list_command,
                                                             visit_show_command,
                                                             measure_command,
                                                             visit_remove_command,
                                                             visit_restore_command,
                                                             visit_end_command,
                                                             compare_command,
                                                             history_command,
                                                             sheet_command,
                                                             export_command,
                                                             import_command};

}  // namespace

std::span<const CommandDescription> commands() { return described; }

Result<Command> parse_command_line(std::span<const std::string> arguments) {
    if (arguments.empty()) return usage("no command", "nothing to do", "see midspan --help");
    const std::string& first = arguments.front();
    if (first == "--help" || first == "-h") return Command{ShowText{help_of(commands())}};
    if (first == "--version") return Command{ShowText{"midspan " MIDSPAN_VERSION "\n"}};
    bool first_of_two = false;
    for (std::size_t i = 0; i < described.size(); ++i) {
        const std::string_view name = described[i].name;
        const std::size_t blank = name.find(' ');
        if (first != name.substr(0, blank)) continue;
        const bool two = blank != std::string_view::npos;
        first_of_two = first_of_two || two;
        if (two && (arguments.size() < 2 || arguments[1] != name.substr(blank + 1))) continue;
        const auto words = sorted(described[i], arguments.subspan(two ? 2 : 1));
        if (!words) return words.error();
        if (!words.value().at("--help").empty()) return Command{ShowText{help_of(described[i])}};
        return from_words[i](described[i], words.value());
    }
    if (!first_of_two) return usage(first, "no such command", "see midspan --help");
    // "instrument" alone, or with a word that is none of its own.
    const std::string follows = fmt::format("{}", fmt::join(second_words(commands(), first), ", "));
    if (arguments.size() > 1 && (arguments[1] == "--help" || arguments[1] == "-h")) {
        return Command{ShowText{help_of(commands(), first)}};
    }
    return usage(first,
                 arguments.size() < 2 ? "what of it?" : fmt::format("no such command {}", arguments[1]),
                 fmt::format("say {} and one of {}", first, follows));
}

}  // namespace midspan::program
