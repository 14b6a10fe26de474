// Package kits reads a model kit as its designer wrote it.
//
// A kit file is YAML, read strictly: [Read] either returns a [Kit] in which every
// reference is resolved and every length is in mm, or [Faults], all that is wrong
// with the file, each with its file, line and column and what to do about it. The
// table of fields in fields.go is the only description of the format; the reader,
// the JSON Schema ([Schema]) and the reference ([Reference]) are all made from it.
//
// The package knows what a kit says, not what follows from it: that is package
// plan.
package kits
