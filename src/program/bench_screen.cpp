// bench_screen.cpp: pages to the terminal through ncurses, and the terminal back to whoever had it.
//
// Room: program. Edge: the terminal.
#include "program/bench_screen.hpp"

#include <unistd.h>

#include <array>
#include <clocale>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <utility>
#include <vector>

#include "midspan/view/bench_page.hpp"

// Its macros would reach into everything included behind it.
#define NCURSES_NOMACROS
#include <curses.h>
#include <termios.h>

// From <term.h>, whose macros take the names of half a program: the terminal's sequence for a capability.
extern "C" char* tigetstr(const char* capability);

namespace midspan::program {
namespace {

constexpr std::array sudden_ends{SIGQUIT, SIGABRT, SIGSEGV, SIGBUS, SIGFPE, SIGILL};

/// What gives the terminal back, worked out beforehand: a signal handler may do no more than send it.
struct WayBack {
    termios before{};
    std::array<char, 256> text{};
    std::size_t length = 0;
};
WayBack way_back;

void remember(const char* capability) {
    const char* sequence = tigetstr(capability);
    if (sequence == nullptr || sequence == reinterpret_cast<const char*>(-1)) return;
    const std::size_t length = std::strlen(sequence);
    if (way_back.length + length > way_back.text.size()) return;
    std::memcpy(way_back.text.data() + way_back.length, sequence, length);
    way_back.length += length;
}

extern "C" void give_back_and_end(int number) {
    const ssize_t ignored = ::write(STDOUT_FILENO, way_back.text.data(), way_back.length);
    static_cast<void>(ignored);
    ::tcsetattr(STDIN_FILENO, TCSANOW, &way_back.before);
    std::signal(number, SIG_DFL);
    std::raise(number);
}

constexpr short good_pair = 1;
constexpr short attention_pair = 2;

}  // namespace

class BenchScreen::Work {
public:
    Work(const Look& look, SCREEN* screen) : look_{look}, screen_{screen} {
        for (const char* capability : {"sgr0", "cnorm", "rmkx", "rmcup"})
            remember(capability);
        for (std::size_t i = 0; i < sudden_ends.size(); ++i) {
            struct sigaction action {};
            action.sa_handler = give_back_and_end;
            ::sigaction(sudden_ends[i], &action, &actions_before_[i]);
        }
        cbreak();
        noecho();
        nonl();
        nodelay(stdscr, TRUE);
        keypad(stdscr, TRUE);
        set_escdelay(25);
        curs_set(0);
        coloured_ = std::getenv("NO_COLOR") == nullptr && has_colors() == TRUE && start_color() == OK &&
                    use_default_colors() == OK;
        if (coloured_) {
            init_pair(good_pair, COLOR_GREEN, -1);
            init_pair(attention_pair, COLOR_YELLOW, -1);
        }
    }

    ~Work() {
        endwin();
        for (std::size_t i = 0; i < sudden_ends.size(); ++i)
            ::sigaction(sudden_ends[i], &actions_before_[i], nullptr);
        delscreen(screen_);
    }
    Work(const Work&) = delete;
    Work& operator=(const Work&) = delete;

    void set_notice(std::string notice) { notice_ = std::move(notice); }

    void show(const BenchSession& session) {
        state_ = session.state();
        analysis_ = session.analysis();
        instrument_ = session.instrument();
        draw();
    }

    BenchKey key() {
        BenchKey pressed = BenchKey::none;
        for (int read = getch(); read != ERR; read = getch()) {
            if (read == KEY_RESIZE) draw();
            if (read == 'u' || read == 'U') pressed = BenchKey::undo;
            if (read == 'r' || read == 'R') pressed = BenchKey::restart;
            if (read == 'q' || read == 'Q' || read == '\n' || read == '\r' || read == KEY_ENTER)
                return BenchKey::finish;
            if (pressed != BenchKey::none) break;
        }
        return pressed;
    }

private:
    void draw() {
        int rows = 0;
        int columns = 0;
        getmaxyx(stdscr, rows, columns);
        werase(stdscr);
        if (instrument_) {
            const std::vector<PageLine> page =
                bench_page(state_, *instrument_, analysis_, notice_, look_, {columns, rows});
            for (std::size_t i = 0; i < page.size(); ++i) {
                wattrset(stdscr, attribute(page[i].tone));
                mvwaddstr(stdscr, static_cast<int>(i), 0, page[i].text.c_str());
            }
        }
        wattrset(stdscr, A_NORMAL);
        wrefresh(stdscr);
    }

    [[nodiscard]] int attribute(Tone tone) const {
        const auto colour = [this](short pair) { return coloured_ ? static_cast<int>(COLOR_PAIR(pair)) : 0; };
        switch (tone) {
            case Tone::plain:
                return A_NORMAL;
            case Tone::strong:
                return static_cast<int>(A_BOLD);
            case Tone::good:
                return static_cast<int>(A_BOLD) | colour(good_pair);
            case Tone::attention:
                return static_cast<int>(A_BOLD) | colour(attention_pair);
            case Tone::faint:
                return static_cast<int>(A_DIM);
        }
        return A_NORMAL;
    }

    Look look_;
    SCREEN* screen_;
    bool coloured_ = false;
    std::array<struct sigaction, sudden_ends.size()> actions_before_{};
    BenchState state_;
    Analysis analysis_;
    std::string notice_;
    std::optional<Instrument> instrument_;
};

std::unique_ptr<BenchScreen> BenchScreen::open(const Look& look) {
    if (::isatty(STDIN_FILENO) != 1 || ::isatty(STDOUT_FILENO) != 1) return nullptr;
    way_back = {};
    if (::tcgetattr(STDIN_FILENO, &way_back.before) != 0) return nullptr;
    // ncurses asks the locale how many columns a character takes; numbers stay as they are.
    std::setlocale(LC_CTYPE, "");
    SCREEN* screen = newterm(nullptr, stdout, stdin);
    if (screen == nullptr) return nullptr;
    return std::unique_ptr<BenchScreen>{new BenchScreen{std::make_unique<Work>(look, screen)}};
}

BenchScreen::BenchScreen(std::unique_ptr<Work> work) : work_{std::move(work)} {}
BenchScreen::~BenchScreen() = default;

void BenchScreen::show(const BenchSession& session) { work_->show(session); }
void BenchScreen::set_notice(std::string notice) { work_->set_notice(std::move(notice)); }
BenchKey BenchScreen::key() { return work_->key(); }

}  // namespace midspan::program
