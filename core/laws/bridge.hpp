#pragma once

/// The resistor bridge inside a pressure sensor. Source: Wheatstone's bridge as in any text on electrical measurement.
/// For callers of the library: airtally itself takes a sensor's sensitivity from the file and asks none of this.
namespace airtally::laws {

/// Four resistors across one supply: `top_a` above `bottom_a` make leg a, `top_b` above `bottom_b` leg b.
struct Bridge {
  double top_a = 1.0;     ///< [ohm] > 0
  double bottom_a = 1.0;  ///< [ohm] > 0
  double top_b = 1.0;     ///< [ohm] > 0
  double bottom_b = 1.0;  ///< [ohm] > 0
};

/// Voltage of leg a against leg b, unloaded, as a part of the supply: bottom_a/(top_a + bottom_a) - bottom_b/(top_b +
/// bottom_b) [V/V]. Exact. With one resistor changed by x it is x/(4 + 2 x), half a per cent off x/4 at x = 0.01; with
/// all four changed by x in turn it is x, and straight. Throws DomainError unless all four are above zero.
double bridge_output(const Bridge& bridge);

/// Resistance that the two legs together show to whatever is connected between them [ohm]: each leg's two resistors in
/// parallel, both legs in series. Throws as bridge_output().
double bridge_resistance(const Bridge& bridge);

}  // namespace airtally::laws
