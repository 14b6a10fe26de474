package health

// disjoint keeps numbers in groups that are joined over time (B. A. Galler and M. J.
// Fischer, "An improved equivalence algorithm", 1964). The lowest number of a group
// leads it.
type disjoint struct {
	lead   []int32
	seen   []bool
	joined int // groups lost by joining
}

func newGroups(n int) *disjoint {
	d := &disjoint{lead: make([]int32, n)}
	for i := range d.lead {
		d.lead[i] = int32(i)
	}
	return d
}

func (d *disjoint) find(i int) int {
	for int(d.lead[i]) != i {
		d.lead[i] = d.lead[d.lead[i]]
		i = int(d.lead[i])
	}
	return i
}

func (d *disjoint) join(a, b int) {
	a, b = d.find(a), d.find(b)
	if a != b {
		d.lead[max(a, b)] = int32(min(a, b))
		d.joined++
	}
}

// touch returns 1 when a number is seen for the first time.
func (d *disjoint) touch(i int) int {
	if d.seen == nil {
		d.seen = make([]bool, len(d.lead))
	}
	if d.seen[i] {
		return 0
	}
	d.seen[i] = true
	return 1
}

// number gives the groups numbers from 0 by their leaders, and counts them. The groups are not to be used afterwards.
func (d *disjoint) number() (of []int32, n int) {
	for i, l := range d.lead { // leaders come before those they lead
		if int(l) == i {
			d.lead[i] = int32(n)
			n++
		} else {
			d.lead[i] = d.lead[l]
		}
	}
	return d.lead, n
}
