package plan

// PaintFirst lists the pieces that are painted by themselves before a step: those that no
// earlier step works on. The base of a sub-build is painted before anything is fitted to
// it, not when the finished sub-build goes in.
func (q *Sequence) PaintFirst(step int) []int { return q.paint[step] }

func (q *Sequence) paintedFirst() map[int][]int {
	r := q.Solution.Constraints
	first := map[int][]int{}
	seen := make([]bool, len(r.Kit.Pieces))
	for _, v := range q.Order {
		for _, p := range r.Steps[v].InHand() {
			if seen[p] {
				continue
			}
			seen[p] = true
			if r.Kit.Pieces[p].Part.PaintedAlone() {
				first[v] = append(first[v], p)
			}
		}
	}
	return first
}
