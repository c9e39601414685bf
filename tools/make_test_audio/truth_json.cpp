// truth_json.cpp: the truth about a take, as text beside it.
//
// Room: tools/make_test_audio.
#include <cmath>
#include <nlohmann/json.hpp>
#include <string_view>

#include "performance.hpp"

namespace midspan::test {
namespace {

using Json = nlohmann::ordered_json;

// To so many decimal places: a last bit that differs between platforms is not written down.
double rounded(double value, int places) {
    const double scale = std::pow(10.0, places);
    return std::round(value * scale) / scale;
}

Json hertz(Hertz f) { return rounded(f.value(), 6); }
Json cents(Cents c) { return rounded(c.value(), 4); }
Json seconds(Seconds t) { return rounded(t.value(), 6); }

std::string_view kind_name(NoteKind kind) {
    switch (kind) {
        case NoteKind::open:
            return "open";
        case NoteKind::harmonic:
            return "harmonic";
        case NoteKind::fretted:
            break;
    }
    return "fretted";
}

Json codes(const std::vector<WarningCode>& warnings) {
    Json list = Json::array();
    for (const WarningCode code : warnings)
        list.push_back(code_name(code));
    return list;
}

Json string_truth(const Scene& scene, const Performance& performance, const SceneString& s) {
    Take take{scene.sample_rate, {}, {}};
    Json json{{"string", s.number}, {"open_note", s.open_note}, {"off_pitch_cents", cents(s.off_pitch)}};
    double cents_above[3] = {0.0, 0.0, 0.0};  // of each kind's mean above 1 Hz
    int counts[3] = {0, 0, 0};
    for (const PlayedNote& note : performance.notes) {
        if (note.string != s.number || note.choked) continue;
        take.plucks.push_back(note.pluck);
        const auto kind = static_cast<std::size_t>(note.pluck.kind);
        cents_above[kind] += interval(Hertz{1.0}, note.pluck.frequency).value();
        ++counts[kind];
    }
    for (const NoteKind kind : {NoteKind::open, NoteKind::harmonic, NoteKind::fretted}) {
        const auto k = static_cast<std::size_t>(kind);
        if (counts[k] == 0) continue;
        json[std::string{kind_name(kind)}] = {
            {"frequency_hz", hertz(raised(Hertz{1.0}, Cents{cents_above[k] / counts[k]}))},
            {"plucks", counts[k]}};
    }
    json["inharmonicity"] = s.inharmonicity;
    json["error_cents"] = cents(s.error);
    json["played_error_cents"] = cents(take.played_error());
    json["acceptable_verdicts"] = s.acceptable_verdicts;
    json["expected_warnings"] = codes(s.expected_warnings);
    return json;
}

}  // namespace

std::string truth_json(const Scene& scene, const Performance& performance) {
    Json json{{"recording", scene.file},
              {"story", scene.story},
              {"seed", scene.seed},
              {"sample_rate_hz", scene.sample_rate.value()},
              {"channels", scene.channels},
              {"duration_s", seconds(performance.duration)},
              {"tuning", scene.tuning},
              {"scale_length_mm", scene.scale_length.value()},
              {"plucks_order", scene.order == PluckOrder::alternate ? "alternate" : "grouped"},
              {"tolerance_cents", 1.5}};
    for (const SceneString& s : scene.strings)
        json["strings"].push_back(string_truth(scene, performance, s));
    for (const PlayedNote& note : performance.notes) {
        json["plucks"].push_back({{"at_s", seconds(note.pluck.start)},
                                  {"string", note.string},
                                  {"kind", kind_name(note.pluck.kind)},
                                  {"frequency_hz", hertz(note.pluck.frequency)},
                                  {"glide_cents", cents(note.glide)},
                                  {"choked", note.choked},
                                  {"overload", note.overload}});
    }
    json["disturbances"] = Json::array();
    for (const HeardDisturbance& d : performance.disturbances) {
        json["disturbances"].push_back({{"at_s", seconds(d.start)}, {"what", d.what}});
    }
    json["expected_warnings"] = codes(scene.expected_warnings);
    return json.dump(2) + "\n";
}

}  // namespace midspan::test
