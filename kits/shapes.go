package kits

import (
	"fmt"
	"regexp"

	"dryfit/kits/format"
	"dryfit/kits/geom"
)

const (
	pieceRefPattern = `^[0-9]*[a-z][a-z0-9]*(-[a-z0-9]+)*(\.[1-9][0-9]*)?$`
	maxPieceRef     = format.MaxIDLength + 8
	scalePattern    = `^1:[1-9][0-9]*(\.[0-9]+)?$`
)

var (
	pieceRefRegexp = regexp.MustCompile(pieceRefPattern)
	scaleRegexp    = regexp.MustCompile(scalePattern)
)

// pieceRef names a part, which stands for all its copies, or one copy of it.
var pieceRef = format.Name(format.Words.Check("piece", format.Schema{"type": "string", "pattern": pieceRefPattern, "maxLength": maxPieceRef}, func(s string) string {
	if pieceRefRegexp.MatchString(s) && len(s) <= maxPieceRef {
		return ""
	}
	return fmt.Sprintf("%q is not the name of a piece: write the part's id, or seat.2 for its second copy", s)
}))

// scaleRatio is a scale such as 1:32.
var scaleRatio = format.Pattern(scalePattern, `"1:N"`, `is not a scale: write "1:32", in quotes`)

// size is the three sides of a box, in the units of the file.
var size = format.Mapped(format.Numbers(3, format.Length, "[x, y, z]"),
	func(n format.Placed[[]float64]) Size { return Size{geom.Vec(n.Value), n.Pos} })

// clearOpening is the two sides of an opening, in the units of the file.
var clearOpening = format.Mapped(format.Numbers(2, format.Length, "[width, height]"),
	func(n format.Placed[[]float64]) Opening { return Opening{W: n.Value[0], H: n.Value[1], Pos: n.Pos} })

// pocket is the diameter and the depth of a round hole, in the units of the file.
var pocket = format.Mapped(format.Numbers(2, format.Length, "[diameter, depth]"),
	func(n format.Placed[[]float64]) Pocket { return Pocket{n.Value[0], n.Value[1], n.Pos} })
