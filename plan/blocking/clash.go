package blocking

import "context"

// clashes looks closer at pairs that clash, along the axes on which no line has said so:
// seen along them, what they share may be a strip that lies between two lines.
func (m *Model) clashes(ctx context.Context) error {
	for i := range m.axes {
		x := &m.axes[i]
		var list []question
		for _, p := range m.Pairs {
			pair := [2]int32{int32(p.A), int32(p.B)}
			if p.Depth > 0 && (x.bits(p.A, p.B)|x.checked[pair])&clashes == 0 {
				list = append(list, question{lo: pair[0], hi: pair[1], want: withClash(clashes)})
			}
		}
		m.tell("looking closer at what overlaps", float64(i)/float64(len(m.axes)))
		if _, err := m.verifyAlong(ctx, x, list, square); err != nil {
			return err
		}
	}
	return nil
}
