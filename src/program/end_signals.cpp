// end_signals.cpp: a handler that remembers.
//
// Room: program. Edge: the process's signals.
#include "program/end_signals.hpp"

#include <cstddef>

namespace midspan::program {
namespace {

volatile std::sig_atomic_t came = 0;  // the last one's number

extern "C" void remember(int number) { came = number; }

}  // namespace

EndSignals::EndSignals() {
    came = 0;
    struct sigaction remembering {};
    remembering.sa_handler = remember;
    sigemptyset(&remembering.sa_mask);
    for (std::size_t i = 0; i < numbers_.size(); ++i) {
        sigaction(numbers_[i], &remembering, &before_[i]);
        // Whoever started this in the background may have one ignored; that stays.
        if (before_[i].sa_handler == SIG_IGN) sigaction(numbers_[i], &before_[i], nullptr);
    }
}

EndSignals::~EndSignals() {
    for (std::size_t i = 0; i < numbers_.size(); ++i)
        sigaction(numbers_[i], &before_[i], nullptr);
}

bool EndSignals::end_wanted() const { return came != 0; }
bool EndSignals::terminal_gone() const { return came == SIGHUP; }

}  // namespace midspan::program
