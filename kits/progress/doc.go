// Package progress reads and edits the file that records how far a kit is printed and
// built. It is beside the kit file: kit.progress.yaml for kit.yaml.
//
//	pieces:
//	  hull-left: [printed, cleaned, painted]
//	  seat: printed     # all copies
//	  seat.1: fitted
//	done: [tail-lead, hull-closing, Test the lights]
//	ticked: [hull-closing/fit/seat.1]
//
// A piece is named by its id, by that of its part for all copies, or by the designer's
// number. What is not named has not been started. Under done are closings, wires and
// tasks, by the names of their steps. A task without a name is given by its text, a
// closing without one as "closing hull-left on hull-right".
//
// Under ticked are items of last calls that were ticked off on the page: the step that
// comes next, what must have been done before it (fit, paint, thread, do), and the piece,
// wire or task. Sentences, as older versions wrote them, are kept as they are.
//
// Under tests is the log of test prints: the part, the date, the result, and what printer,
// material, turn, note and mesh it was. A test counts for the mesh that it was printed from.
//
// Under plates are the plates of the printing plan since the first of them was marked as
// printed, with where each piece lies, so that they keep their numbers and their files.
//
// People may edit the file by hand. It is read as strictly as a kit file, and [File.Mark]
// keeps comments, empty lines and the order of entries. Names that the kit does not have
// are not faults: a new revision of a kit must not make the file useless.
//
// Several processes may record progress at once; see [Update]. The last line is a comment
// with a checksum, so that a file that was cut off is not taken for less progress.
package progress
