// Package bill says what a kit consists of, as a builder lists it before starting:
// parts with their numbers, quantities and spares, hardware, and what is used up.
package bill
