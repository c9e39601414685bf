// midspan.hpp: all of midspan, in the order of the flow.
//
// Room: ground. May include: every room.
#pragma once

// ground
#include "midspan/result.hpp"
#include "midspan/uncertain.hpp"
#include "midspan/units.hpp"
#include "midspan/warning.hpp"

// sound
#include "midspan/sound/audio_block.hpp"
#include "midspan/sound/input_devices.hpp"
#include "midspan/sound/kept_sound.hpp"
#include "midspan/sound/microphone.hpp"
#include "midspan/sound/recording.hpp"
#include "midspan/sound/sound_source.hpp"

// instrument
#include "midspan/instrument/bridge.hpp"
#include "midspan/instrument/fretboard.hpp"
#include "midspan/instrument/instrument.hpp"
#include "midspan/instrument/length.hpp"
#include "midspan/instrument/note_name.hpp"
#include "midspan/instrument/string_make.hpp"
#include "midspan/instrument/string_physics.hpp"

// notes
#include "midspan/notes/pluck.hpp"
#include "midspan/notes/pluck_finder.hpp"

// pitch
#include "midspan/pitch/pitch_estimator.hpp"
#include "midspan/pitch/pitch_reading.hpp"
#include "midspan/pitch/surest_reading.hpp"

// comparison
#include "midspan/comparison/neck_survey.hpp"
#include "midspan/comparison/note_recognition.hpp"
#include "midspan/comparison/octave_comparison.hpp"
#include "midspan/comparison/pairing.hpp"

// advice
#include "midspan/advice/bridge_response.hpp"
#include "midspan/advice/neck_expectation.hpp"
#include "midspan/advice/saddle_move.hpp"
#include "midspan/advice/setup_prediction.hpp"
#include "midspan/advice/verdict.hpp"

// measurement
#include "midspan/measurement/analysis.hpp"
#include "midspan/measurement/bench_event.hpp"
#include "midspan/measurement/bench_session.hpp"
#include "midspan/measurement/measurement.hpp"
#include "midspan/measurement/survey.hpp"

// record
#include "midspan/record/bench_entry.hpp"
#include "midspan/record/record_lists.hpp"
#include "midspan/record/record_names.hpp"
#include "midspan/record/record_store.hpp"
#include "midspan/record/record_text.hpp"
#include "midspan/record/session_record.hpp"
#include "midspan/record/setup_record.hpp"
#include "midspan/record/stated_neck.hpp"

// view
#include "midspan/view/analysis_json.hpp"
#include "midspan/view/bench_events.hpp"
#include "midspan/view/bench_notes.hpp"
#include "midspan/view/bench_page.hpp"
#include "midspan/view/bench_table.hpp"
#include "midspan/view/bridge_drawing.hpp"
#include "midspan/view/look.hpp"
#include "midspan/view/neck_drawing.hpp"
#include "midspan/view/prediction_view.hpp"
#include "midspan/view/setup_sheet.hpp"
#include "midspan/view/survey_json.hpp"
