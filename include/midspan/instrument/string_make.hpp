// string_make.hpp: what a string is made of: its weight, and how it resists stretching and bending.
//
// Room: instrument. Pure. May include: ground.
#pragma once

#include <optional>
#include <string_view>

#include "midspan/result.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// A steel string as it is sold: plain wire, or a core with a wrap of other wire.
struct StringGauge {
    Millimetres gauge;  ///< outer diameter
    bool wound = false;
    std::optional<Millimetres> core;  ///< of a wound string; unknown when left out
};

/// What a table of materials leaves open. A prediction is made with the middle of each, and once more with
/// each a standard uncertainty away.
struct StringMaterial {
    double modulus_gpa = 207.0;          ///< Young's modulus of the wire that carries the tension
    double wrap_density_kg_m3 = 8400.0;  ///< of the wire around the core
    double core_factor = 1.0;            ///< on the core diameter of a wound string nobody has stated
    double gauge_factor = 1.0;           ///< on the outer diameter
};

/// Standard uncertainties (k = 1) of the material.
///
/// modulus       tables say 190 to 207 GPa for music wire (ASTM A228: 30 Mpsi)
/// wrap_density  nickel-plated steel about 7,900, stainless 7,917, phosphor bronze 8,858, nickel 8,900:
///               evenly anywhere between
/// core_factor   from memory: makers choose the core within some 10 %
/// gauge_factor  from memory: wire is drawn to some 1 % of a thin string's diameter
inline constexpr StringMaterial material_uncertainty{10.0, 290.0, 0.10, 0.01};

/// One string, as far as its pitch is concerned.
struct StringMake {
    GramsPerMetre unit_weight;
    Newtons stretch_stiffness;                  ///< EA of the wire that carries the tension
    NewtonSquareMillimetres bending_stiffness;  ///< EI of that wire
};

/// Weight and stiffness from the gauge, d the outer and c the core diameter, w = (d - c) / 2 the wrap wire:
///
///     plain   mu = (pi/4) rho d^2               EA = E (pi/4) d^2    EI = E (pi/64) d^4
///     wound   mu = (pi/4) (rho c^2 + rho_w w sqrt((pi (c + w))^2 + w^2))
///                                               EA = E (pi/4) c^2    EI = E (pi/64) c^4
///
/// the wrap being a helix of round wire, turn beside turn, that carries no tension and does not stiffen; rho
/// is 7,850 kg/m^3. A core nobody has stated is taken as 0.203 mm + 0.2 d (0.008 in + 0.2 d).
///
/// gauge  0.1 to 4 mm; the core, where stated, 0.1 mm to 0.9 of it
///
/// A plain string's weight is as good as its gauge squared; a wound string's is known to some 4 % as long as
/// its wrap is not. A hexagonal core of the same width across flats is 10 % heavier and stiffer.
///
/// Sources: geometry; densities from tables of spring materials and ASTM A228. The core of a wound string
/// from memory.
[[nodiscard]] StringMake string_make(const StringGauge& string, const StringMaterial& material = {});

/// Whether string_make has an answer: diameters within its ranges, and room between core and wrap.
[[nodiscard]] bool can_be_made(const StringGauge& string);

/// A gauge as players write it: in thousandths of an inch ("10", ".010", "0.010in") or in millimetres
/// ("0.25mm"); a wound string has a w behind it ("46w"), and after a slash its core where it is known
/// ("46w/17"). A plain number of 4 or more is thousandths, a smaller one inches.
[[nodiscard]] Result<StringGauge> parse_gauge(std::string_view text);

}  // namespace midspan
