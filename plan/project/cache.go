package project

import (
	"bytes"
	"compress/gzip"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"dryfit/kits/cache"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan/blocking"
)

// cacheKind changes with anything that changes what is measured.
const cacheKind = "measurements-4"

const maxCache = 512 << 20 // bytes, unpacked

// entry is the cache entry of the measurements.
func (s *Survey) entry() *cache.Entry {
	content := append([][]byte{[]byte(strconv.FormatFloat(s.options.Pitch, 'g', -1, 64))}, mesh.Hashes(s.Pieces)...)
	return cache.NewEntry(cacheKind, s.path, content...)
}

// kept is what the cache keeps of earlier measurements.
type kept struct {
	known  *blocking.Known
	health map[string]*mesh.Health // by content
}

// contents is kept as written to the cache.
type contents struct {
	Pitch  float64                 `json:"pitch"`
	Depth  float64                 `json:"depth"`
	Touch  float64                 `json:"touch"`
	Near   float64                 `json:"near"`
	Pieces []string                `json:"pieces"`
	Axes   []axis                  `json:"axes"`
	Health map[string]*mesh.Health `json:"health"` // by content
}

// axis lists pairs as flat rows of numbers.
type axis struct {
	Dir     geom.Vec     `json:"dir"`
	Contact bool         `json:"contact"`
	Broken  []int        `json:"broken"`
	Pairs   [][8]float64 `json:"pairs"`
	Checked [][3]int     `json:"checked"`
}

// unpack reads earlier measurements.
func unpack(data []byte) (*kept, error) {
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	text, err := io.ReadAll(io.LimitReader(z, maxCache+1))
	if err != nil {
		return nil, err
	}
	if len(text) > maxCache {
		return nil, errors.New("it is too large")
	}
	var c contents
	if err := json.Unmarshal(text, &c); err != nil {
		return nil, err
	}
	known, err := c.known()
	if c.Health == nil {
		c.Health = map[string]*mesh.Health{}
	}
	return &kept{known, c.Health}, err
}

// errForeign says that rows of the file refer to pieces it does not list.
var errForeign = errors.New("it names pieces that are not in it")

// known converts the contents to measurements, rejecting invalid ones.
func (c *contents) known() (*blocking.Known, error) {
	k := &blocking.Known{Pitch: c.Pitch, Depth: c.Depth, Touch: c.Touch, Near: c.Near}
	for _, p := range c.Pieces {
		raw, err := hex.DecodeString(p)
		var h mesh.Hash
		if err != nil || copy(h[:], raw) != len(h) {
			return nil, fmt.Errorf("%q is not a content hash", p)
		}
		k.Pieces = append(k.Pieces, h)
	}
	n := len(k.Pieces)
	for _, a := range c.Axes {
		if len(a.Broken) != n {
			return nil, errors.New("its lists differ in length")
		}
		known := blocking.KnownAxis{Dir: a.Dir, Contact: a.Contact, Broken: a.Broken}
		for _, p := range a.Pairs {
			known.Pairs = append(known.Pairs, blocking.KnownPair{Lo: int(p[0]), Hi: int(p[1]), Bits: uint8(p[2]), Deep: p[3], Volume: p[4], Touch: p[5], Gap: p[6], Near: p[7]})
		}
		for _, p := range a.Checked {
			if p[2] < 0 || p[2] > math.MaxUint8 {
				return nil, errForeign
			}
			known.Checked = append(known.Checked, blocking.KnownPair{Lo: p[0], Hi: p[1], Bits: uint8(p[2])})
		}
		for _, pair := range slices.Concat(known.Pairs, known.Checked) {
			if !pair.Valid(n) {
				return nil, errForeign
			}
		}
		k.Axes = append(k.Axes, known)
	}
	return k, nil
}

func (c *kept) pack() ([]byte, error) {
	k := c.known
	out := contents{Pitch: k.Pitch, Depth: k.Depth, Touch: k.Touch, Near: k.Near, Health: c.health}
	for _, h := range k.Pieces {
		out.Pieces = append(out.Pieces, hex.EncodeToString(h[:]))
	}
	for _, a := range k.Axes {
		row := axis{Dir: a.Dir, Contact: a.Contact, Broken: a.Broken}
		for _, p := range a.Pairs {
			row.Pairs = append(row.Pairs, [8]float64{float64(p.Lo), float64(p.Hi), float64(p.Bits), p.Deep, p.Volume, p.Touch, p.Gap, p.Near})
		}
		for _, p := range a.Checked {
			row.Checked = append(row.Checked, [3]int{p.Lo, p.Hi, int(p.Bits)})
		}
		out.Axes = append(out.Axes, row)
	}
	text, err := json.Marshal(out)
	if err != nil {
		return nil, err
	}
	var body bytes.Buffer
	z, err := gzip.NewWriterLevel(&body, gzip.BestSpeed)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(text); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return body.Bytes(), nil
}
