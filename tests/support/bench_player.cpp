// bench_player.cpp: plays a sound file to the bench's screen, so that it can be looked at without a
// microphone.
//
// Room: tests/support. Edge: the disk, the terminal. May include: everything.
//
//     bench_player FILE [FRAMES]     the first FRAMES of it at once, then keys until q; 648 mm, screws of 0.5
//     mm
#include <poll.h>
#include <unistd.h>

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <vector>

#include "midspan/measurement/bench_session.hpp"
#include "midspan/sound/recording.hpp"
#include "program/bench_screen.hpp"
#include "program/end_signals.hpp"
#include "program/terminal.hpp"

int main(int argc, char** argv) {
    using namespace midspan;
    if (argc < 2) return 2;
    const std::vector<Millimetres> length{Millimetres{648.0}};
    auto guitar = make_instrument(standard_tuning, length, Hertz{440.0}, {Millimetres{0.5}, true, {}, {}});
    auto take = Recording::open(argv[1]);
    if (!guitar || !take) return 3;
    const std::size_t frames = argc > 2 ? std::strtoul(argv[2], nullptr, 10) : SIZE_MAX;

    BenchSession session{guitar.value(), {}};
    session.begin(argv[1], take.value().format());
    for (std::size_t heard = 0; heard < frames;) {
        const auto block = take.value().next();
        if (!block || block.value().frames() == 0) break;
        const std::size_t wanted = std::min(block.value().frames(), frames - heard);
        const auto channels = static_cast<std::size_t>(block.value().channels);
        session.feed({block.value().samples.first(wanted * channels), block.value().channels});
        heard += wanted;
    }

    const program::EndSignals signals;
    const auto screen =
        program::BenchScreen::open({LengthUnit::millimetres, program::screen_of_stdout().utf8, false});
    if (!screen) return 4;
    screen->show(session);
    while (!signals.end_wanted()) {
        pollfd input{STDIN_FILENO, POLLIN, 0};
        ::poll(&input, 1, 50);
        switch (screen->key()) {
            case program::BenchKey::none:
                continue;
            case program::BenchKey::undo:
                session.undo_last_pluck();
                break;
            case program::BenchKey::restart:
                session.restart_string();
                break;
            case program::BenchKey::finish:
                return 0;
        }
        screen->show(session);
    }
    return 130;
}
