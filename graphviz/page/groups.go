package page

import "dryfit/plan"

// groups says in few words which pieces are in place at each step. Written out in full they
// take a gigabyte for the largest kits; nearly always they are those that are there after
// an earlier step.
type groups struct {
	latest []int // of each piece: the last step after which it was in the group of the step
	size   map[int]int
}

func newGroups(pieces int) *groups {
	return &groups{make([]int, pieces), map[int]int{}}
}

// follow takes the next step, by its number. It returns the step after which just the
// pieces that stay still were there, or else 0 and all of them.
func (g *groups) follow(number int, mv plan.Move) (after int, still []int) {
	still = []int{}
	if len(mv.Still) > 0 {
		after = g.latest[mv.Still[0]]
	}
	if after > 0 && g.size[after] == len(mv.Still) {
		for _, p := range mv.Still {
			if g.latest[p] != after {
				after = 0
				break
			}
		}
	} else {
		after = 0
	}
	if after == 0 {
		still = append(still, mv.Still...)
	}
	g.add(number, mv.Still)
	for _, x := range mv.Movers {
		g.add(number, x.Pieces)
	}
	return after, still
}

// add adds pieces to the group of a step.
func (g *groups) add(number int, pieces []int) {
	for _, p := range pieces {
		if g.latest[p] != number {
			g.latest[p] = number
			g.size[number]++
		}
	}
}
