package blocking

import (
	"context"
	"errors"

	"dryfit/kits/geom"
)

// Disassembly is a model taken apart.
type Disassembly struct {
	// Moves are in disassembly order. Reversed, each move is a step of the
	// assembly.
	Moves  []Move
	Locked []Lock
}

// Move takes pieces away from a group.
type Move struct {
	Pieces []int      // that leave, together
	Rest   []int      // of the group, that they leave from
	Legs   []geom.Leg // one after the other; mostly a single one
	// Undercut is the width in mm of undercuts that the move passes over: a thread, or
	// a snap. 0 for a move that is free.
	Undercut float64
}

// Lock is a group that no move found takes apart.
type Lock struct {
	Pieces []int
	Holds  []Hold
}

// Hold says that one piece of a locked group keeps another from leaving along a
// direction.
type Hold struct {
	Piece, By int
	Direction geom.Vec
}

// Disassemble takes the model apart, ignoring clashes: where two pieces overlap,
// the one whose middle is further along counts as further along.
func (m *Model) Disassemble(ctx context.Context) (*Disassembly, error) {
	return m.disassemble(ctx, false)
}

// DisassembleStrictly takes the model apart, treating pieces that clash as stuck
// together.
func (m *Model) DisassembleStrictly(ctx context.Context) (*Disassembly, error) {
	return m.disassemble(ctx, true)
}

// disassemble takes the model apart and refines along each move. Any blocker
// found then is kept, and the model is taken apart again.
func (m *Model) disassemble(ctx context.Context, strict bool) (*Disassembly, error) {
	for range maxRounds {
		apart, err := m.disassembleOnce(ctx, strict)
		if err != nil {
			return nil, err
		}
		more, err := m.verify(ctx, apart)
		if err != nil {
			return nil, err
		}
		if !more {
			return apart, nil
		}
	}
	return nil, errors.New("refining along the moves does not converge; use a finer pitch")
}

// maxRounds bounds how often a model is taken apart again. Each round but the
// last finds at least one more blocking pair.
const maxRounds = 50

func (m *Model) disassembleOnce(ctx context.Context, strict bool) (*Disassembly, error) {
	t := newDisassembler(m, strict)
	groups := []branch{{t.all(), nil}}
	for len(groups) > 0 {
		b := groups[len(groups)-1]
		groups = groups[:len(groups)-1]
		if len(b.group) < 2 {
			continue
		}
		// Only the graphs of axes along which this group was measured count.
		t.graphs, t.count = append(t.graphs[:t.shared:t.shared], b.graphs...), t.count[:t.shared]
		for range b.graphs {
			t.count = append(t.count, make([]int32, len(m.Pieces)))
		}
		parts, err := t.split(ctx, b.group)
		if err != nil {
			return nil, err
		}
		groups = append(groups, parts...)
	}
	return t.out, nil
}
