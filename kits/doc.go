// Package kits reads model kit files.
//
// [Read] returns either a [Kit] in which every reference is resolved and every
// length is in mm, or [Faults]: all that is wrong with the file, each with its
// file, line and column and what to do about it. The table of fields in fields.go
// is the only description of the format. The reader, the JSON Schema ([Schema])
// and the reference ([Reference]) are made from it by package format, which knows
// how to read such files but none of the keys. The table is here because it says
// where each value goes in a [Kit].
//
// The package knows what a kit says, not what follows from it: that is package plan.
package kits
