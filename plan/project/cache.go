package project

import (
	"bytes"
	"compress/gzip"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"

	"github.com/zeebo/xxh3"

	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan/blocking"
)

// cacheVersion changes with anything that changes what is measured.
const cacheVersion = 2

// cacheHead starts the file; the checksum of the rest follows.
var cacheHead = fmt.Sprintf("dryfit measurements %d ", cacheVersion)

const maxCache = 512 << 20 // bytes, unpacked

// cacheFile is the file beside the meshes that keeps their measurements. It can
// be deleted at any time.
func cacheFile(meshes string) string {
	if abs, err := filepath.Abs(meshes); err == nil {
		return abs + ".measured"
	}
	return filepath.Clean(meshes) + ".measured"
}

// cache is what is kept of earlier measurements.
type cache struct {
	known  *blocking.Known
	health map[string]*mesh.Health // by content
}

// contents is the cache as it is written.
type contents struct {
	Pitch  float64                 `json:"pitch"`
	Depth  float64                 `json:"depth"`
	Touch  float64                 `json:"touch"`
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

// readCache reads earlier measurements. It returns nil, and says why, when there
// are none that can be trusted.
func readCache(path string) (c *cache, trouble string) {
	data, err := readRegular(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, ""
	}
	if err == nil {
		c, err = unpack(data)
	}
	if err != nil {
		return nil, fmt.Sprintf("%s cannot be used (%s); measuring again", kits.Plain(path), kits.Plain(err.Error()))
	}
	return c, ""
}

// readRegular reads a regular file that is not too large.
func readRegular(path string) ([]byte, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("it is not a regular file")
	}
	if info.Size() > maxCache {
		return nil, errors.New("it is too large")
	}
	return os.ReadFile(path)
}

func unpack(data []byte) (*cache, error) {
	head, body, _ := bytes.Cut(data, []byte("\n"))
	sum, ours := bytes.CutPrefix(head, []byte(cacheHead))
	if !ours {
		return nil, errors.New("it is from another version, or is not a file of measurements")
	}
	if string(sum) != checksum(body) {
		return nil, errors.New("it is damaged")
	}
	z, err := gzip.NewReader(bytes.NewReader(body))
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
	return &cache{known, c.Health}, err
}

func checksum(body []byte) string {
	h := xxh3.Hash128(body).Bytes()
	return hex.EncodeToString(h[:])
}

// errForeign says that rows of the file refer to pieces it does not list.
var errForeign = errors.New("it names pieces that are not in it")

// known converts the contents to measurements, rejecting invalid ones.
func (c *contents) known() (*blocking.Known, error) {
	k := &blocking.Known{Pitch: c.Pitch, Depth: c.Depth, Touch: c.Touch}
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

// write writes the cache, whole or not at all. A file of any other kind is left
// alone.
func (c *cache) write(path string) error {
	old, err := readRegular(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return fmt.Errorf("%s: %w", kits.Plain(path), err)
	case !bytes.HasPrefix(old, []byte("dryfit measurements ")):
		return fmt.Errorf("%s is not a file of measurements", kits.Plain(path))
	}
	data, err := c.pack()
	if err != nil {
		return err
	}
	if bytes.Equal(data, old) {
		return nil
	}
	return atomicfile.Write(path, data, true, atomicfile.Never)
}

func (c *cache) pack() ([]byte, error) {
	k := c.known
	out := contents{Pitch: k.Pitch, Depth: k.Depth, Touch: k.Touch, Health: c.health}
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
	return append([]byte(cacheHead+checksum(body.Bytes())+"\n"), body.Bytes()...), nil
}
