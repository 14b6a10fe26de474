package printing

import (
	"encoding/json"
	"maps"
	"sync"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan/bitset"
	"dryfit/plan/printing/seen"
)

// Known is what was measured before, by content, so that it need not be measured
// again. Any number of goroutines may use it; a nil one knows nothing.
type Known struct {
	lock  sync.Mutex
	kept  kept
	used  kept // of it, and what is new: what is worth keeping
	fresh bool
}

// kept is written to a cache.
type kept struct {
	Held map[string]held       `json:"held"`
	Seen map[string][][]uint64 `json:"seen"`
}

func newKept() kept { return kept{map[string]held{}, map[string][][]uint64{}} }

// NewKnown reads what was kept; nothing, if it cannot be read.
func NewKnown(data []byte) *Known {
	k := &Known{kept: newKept(), used: newKept()}
	if json.Unmarshal(data, &k.kept) != nil {
		k.kept = newKept()
	}
	return k
}

// Keep is what is worth keeping for the next time; nil if nothing is new. After a request
// for a part of what there is to print, that is all that was known before, too.
func (k *Known) Keep(part bool) ([]byte, error) {
	if k == nil {
		return nil, nil
	}
	k.lock.Lock()
	defer k.lock.Unlock()
	if !k.fresh {
		return nil, nil
	}
	if part {
		maps.Copy(k.used.Held, k.kept.Held)
		maps.Copy(k.used.Seen, k.kept.Seen)
	}
	return json.Marshal(k.used)
}

func (k *Known) held(key string) *held {
	if k == nil || key == "" {
		return nil
	}
	k.lock.Lock()
	defer k.lock.Unlock()
	h, known := k.kept.Held[key]
	if !known {
		return nil
	}
	k.used.Held[key] = h
	return &h
}

func (k *Known) hold(key string, h *held) {
	if k == nil || key == "" {
		return
	}
	k.lock.Lock()
	defer k.lock.Unlock()
	k.used.Held[key], k.fresh = *h, true
}

// seen is what was seen of the pieces of a model; nil if that is not known.
func (k *Known) seen(key string, pieces []seen.Piece) []bitset.Set {
	if k == nil {
		return nil
	}
	k.lock.Lock()
	defer k.lock.Unlock()
	list, known := k.kept.Seen[key]
	if !known || len(list) != len(pieces) {
		return nil
	}
	sets := make([]bitset.Set, len(list))
	for i, words := range list {
		if p := pieces[i]; p.Mesh != nil && len(words) != len(bitset.New(p.Mesh.Len())) {
			return nil
		}
		sets[i] = words
	}
	k.used.Seen[key] = list
	return sets
}

func (k *Known) see(key string, sets []bitset.Set) {
	if k == nil {
		return
	}
	list := make([][]uint64, len(sets))
	for i, s := range sets {
		list[i] = s
	}
	k.lock.Lock()
	defer k.lock.Unlock()
	k.used.Seen[key], k.fresh = list, true
}

// key is what a measurement of a part depends on. It changes with the way of
// measuring.
func (f *facts) key(down geom.Vec, w ways) string {
	m, ok := f.Surface.(*mesh.Mesh)
	if !ok {
		return ""
	}
	d := mesh.NewDigest("held-4")
	d.Write(m.Hash[:])
	if f.Clear() {
		d.Text("clear")
	} else {
		d.Write(f.seenHash[:])
	}
	r := w.rules
	exact := 0.0
	if r.Exact {
		exact = 1
	}
	for _, v := range []float64{down[0], down[1], down[2], r.Angle, exact, r.Bridge, r.Raise, r.Layer, w.layer} {
		d.Real(v)
	}
	return d.Sum().String()
}
