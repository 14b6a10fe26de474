package rehearse

import (
	"fmt"

	"dryfit/kits"
	"dryfit/kits/english"
)

// Text says why a step cannot be done, without a full stop. Name names a step.
func (f *Failure) Text(k *kits.Kit, name func(step int) string) string {
	w := wording{k, name}
	text := w.failure(f)
	for _, t := range f.Tried {
		text += "; " + w.tried(t)
	}
	return text
}

// wording words failures of a kit.
type wording struct {
	kit  *kits.Kit
	name func(step int) string
}

func (w wording) failure(f *Failure) string {
	pieces := w.pieces(f.Pieces)
	switch f.Kind {
	case Again:
		return "it is done already"
	case Early:
		return w.steps(f.Steps) + " must be done first"
	case Unseated:
		return fmt.Sprintf("%s %s not in place yet, so %s must be done first", pieces, isOrAre(f.Pieces), w.steps(f.Steps))
	case Apart:
		return pieces + " are not in one group yet"
	case TooLarge:
		return fmt.Sprintf("%s passes no opening of %s", w.mover(f), f.Space.ID)
	case Shut:
		return fmt.Sprintf("%s cannot get into %s, which is shut by %s", w.mover(f), f.Space.ID, pieces)
	case Blocked:
		return fmt.Sprintf("%s cannot travel to its seat: %s %s in its way", w.mover(f), pieces, isOrAre(f.Pieces))
	case Firm:
		return "it does not open, so it cannot be undone"
	case GivenUp:
		return "so many joins open that not all of them were tried"
	case Held:
		return fmt.Sprintf("%s holds both sides of it", w.steps(f.Steps))
	}
	return "there is nothing to undo: it is not done, or undone already"
}

// tried says why undoing a join does not help.
func (w wording) tried(t Tried) string {
	verb := "undone"
	if t.Back {
		verb = "made again afterwards"
	}
	return fmt.Sprintf("%s opens, but cannot be %s: %s", w.name(t.Step), verb, w.failure(t.Why))
}

// mover is the piece or the wire that cannot get to its place.
func (w wording) mover(f *Failure) string {
	if f.Piece < 0 {
		return "the wire"
	}
	return w.kit.Pieces[f.Piece].ID
}

func (w wording) pieces(list []int) string { return english.And(w.kit.Names(list), 8) }

func (w wording) steps(list []int) string {
	names := make([]string, len(list))
	for i, v := range list {
		names[i] = w.name(v)
	}
	return english.And(names, 8)
}

func isOrAre(list []int) string {
	if len(list) == 1 {
		return "is"
	}
	return "are"
}
