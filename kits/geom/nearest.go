package geom

// Nearest is the point of the box that is nearest to p.
func (b Box) Nearest(p Vec) Vec {
	for k := range p {
		p[k] = min(max(p[k], b.Min[k]), b.Max[k])
	}
	return p
}
