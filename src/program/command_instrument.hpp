// command_instrument.hpp: the instruments in the setup record.
//
// Room: program. Edge: the disk, the screen. May include: everything.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "midspan/record/setup_record.hpp"
#include "midspan/result.hpp"
#include "midspan/view/look.hpp"
#include "program/opened_record.hpp"
#include "program/outcome.hpp"

namespace midspan::program {

/// What the command line says about an instrument; what it does not say stays as it is.
struct InstrumentDetails {
    std::optional<std::string> tuning{};
    std::vector<Millimetres> scale_lengths{};
    Saddle saddle{};
    std::optional<InstrumentKind> kind{};
    std::optional<std::string> strings{};
    std::vector<FittedString> fitted{};
    std::optional<int> frets{};
    std::optional<Millimetres> fingerboard_radius{};
    std::optional<BridgeKind> bridge{};
    bool left_handed = false;
    std::optional<std::string> notes{};
};

struct AddInstrument {
    RecordFile record;
    std::string name;                 ///< empty: the one in the file
    std::optional<std::string> file;  ///< a TOML file that describes it
    InstrumentDetails details;
};
struct ChangeInstrument {
    RecordFile record;
    std::string name;
    std::optional<std::string> new_name;
    InstrumentDetails details;
};
struct ListInstruments {
    RecordFile record;
    bool names;    ///< nothing but names, one a line
    bool deleted;  ///< those that can be restored
    bool json;
};
struct ShowInstrument {
    RecordFile record;
    std::string name;
    LengthUnit unit;
    bool json;
};
struct DeleteInstrument {
    RecordFile record;
    std::string name;
    bool yes;
};
struct RestoreInstrument {
    RecordFile record;
    std::string name;
};

[[nodiscard]] Result<Outcome> run(const AddInstrument& command);
[[nodiscard]] Result<Outcome> run(const ChangeInstrument& command);
[[nodiscard]] Result<Outcome> run(const ListInstruments& command);
[[nodiscard]] Result<Outcome> run(const ShowInstrument& command);
[[nodiscard]] Result<Outcome> run(const DeleteInstrument& command);
[[nodiscard]] Result<Outcome> run(const RestoreInstrument& command);

}  // namespace midspan::program
