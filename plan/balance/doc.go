// Package balance works out what a kit weighs, where it balances as it grows, and how
// much ballast it needs in which room.
//
// Masses are g, lengths mm, volumes mm3 or, where the name says so, cm3, densities
// g/cm3. Wires, glue, paint and supports are not counted.
package balance
