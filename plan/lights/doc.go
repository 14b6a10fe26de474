// Package lights works out the resistors, currents, battery life and wires of the
// lamps of a kit. It knows light-emitting lamps of constant forward voltage in
// branches with one resistor each, on a direct-current supply of low voltage; no
// drivers, dimmers or mains.
//
// Voltages are V, currents mA, resistances ohm, powers mW, lengths mm, unless a name
// says otherwise.
package lights
