package draw

import (
	"math"

	"dryfit/kits/mesh"
)

// welder merges corners that are equal, or closer than its grain.
type welder struct {
	grain float64
	at    *table
	list  [][3]float32
	low   [3]float64
}

func newWelder(m *mesh.Mesh, grain float64) *welder {
	return &welder{grain: grain, at: newTable(m.Len() / 2), low: m.Min}
}

// corner is the number of a corner.
func (w *welder) corner(p [3]float32) int32 {
	for k := range p {
		if p[k] == 0 {
			p[k] = 0 // minus zero is zero
		}
	}
	i, isNew := w.at.find(w.key(p), int32(len(w.list)))
	if isNew {
		w.list = append(w.list, p)
	}
	return i
}

// key is one number for a place: its cell, or a hash of its bits. Only keys are compared:
// two places that share one by chance, which takes some 10^9 corners, would draw one
// wrong line and do no other harm.
func (w *welder) key(p [3]float32) uint64 {
	if w.grain > 0 {
		var c [3]uint64
		for k := range p {
			c[k] = uint64(math.Max(0, (float64(p[k])-w.low[k])/w.grain+0.5)) & (1<<21 - 1)
		}
		return c[0]<<42 | c[1]<<21 | c[2]
	}
	h := mix(uint64(math.Float32bits(p[0]))<<32 | uint64(math.Float32bits(p[1])))
	return mix(h ^ uint64(math.Float32bits(p[2])))
}

// mix spreads the bits of a number over the whole of it; different numbers stay different.
func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// table finds the value first given for a key, by open addressing: for millions of keys
// several times faster and smaller than a map.
type table struct {
	keys   []uint64
	values []int32 // one more than the value; 0 for an empty place
	used   int
}

func newTable(expected int) *table {
	size := 64
	for size*2 < expected*3 {
		size *= 2
	}
	return &table{keys: make([]uint64, size), values: make([]int32, size)}
}

// find returns the value of a key, which is v if the key is new.
func (t *table) find(key uint64, v int32) (value int32, isNew bool) {
	if t.used*4 > len(t.keys)*3 {
		t.grow()
	}
	i := t.place(key)
	if t.values[i] == 0 {
		t.keys[i], t.values[i] = key, v+1
		t.used++
		return v, true
	}
	return t.values[i] - 1, false
}

func (t *table) place(key uint64) uint64 {
	mask := uint64(len(t.keys) - 1)
	i := mix(key) & mask
	for t.values[i] != 0 && t.keys[i] != key {
		i = (i + 1) & mask
	}
	return i
}

func (t *table) grow() {
	old := *t
	t.keys, t.values = make([]uint64, 2*len(old.keys)), make([]int32, 2*len(old.keys))
	for i, v := range old.values {
		if v != 0 {
			j := t.place(old.keys[i])
			t.keys[j], t.values[j] = old.keys[i], v
		}
	}
}
