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

	"github.com/zeebo/xxh3"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/plan/blocking"
)

// cacheVersion changes with anything that changes what is measured.
const cacheVersion = 2

// cacheHead begins the file; the checksum of the rest follows.
var cacheHead = fmt.Sprintf("dryfit measurements %d ", cacheVersion)

const maxCache = 512 << 20 // bytes, unpacked

// cacheFile is where the measurements of meshes are kept, beside them. It can be
// deleted at any time.
func cacheFile(meshes string) string {
	if abs, err := filepath.Abs(meshes); err == nil {
		return abs + ".measured"
	}
	return filepath.Clean(meshes) + ".measured"
}

// cached is what the file holds.
type cached struct {
	Pitch  float64                 `json:"pitch"`
	Depth  float64                 `json:"depth"`
	Touch  float64                 `json:"touch"`
	Pieces []string                `json:"pieces"`
	Axes   []cacheAxis             `json:"axes"`
	Health map[string]*mesh.Health `json:"health"` // by content
}

// cacheAxis lists pairs as flat rows of numbers.
type cacheAxis struct {
	Dir     [3]float64   `json:"dir"`
	Contact bool         `json:"contact"`
	Broken  []int        `json:"broken"`
	Pairs   [][8]float64 `json:"pairs"`
	Checked [][3]int     `json:"checked"`
}

// recall reads what was measured before. It returns nil, and says why, when there is
// nothing to be trusted.
func recall(path string) (*blocking.Known, map[string]*mesh.Health, string) {
	data, err := readCache(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, ""
	}
	var k *blocking.Known
	var health map[string]*mesh.Health
	if err == nil {
		k, health, err = unpack(data)
	}
	if err != nil {
		return nil, nil, fmt.Sprintf("%s cannot be used (%s); measuring anew", kits.Plain(path), kits.Plain(err.Error()))
	}
	return k, health, ""
}

// readCache reads a plain file of a bearable size.
func readCache(path string) ([]byte, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("it is not a plain file")
	}
	if info.Size() > maxCache {
		return nil, errors.New("it is too large")
	}
	return os.ReadFile(path)
}

func unpack(data []byte) (*blocking.Known, map[string]*mesh.Health, error) {
	head, body, _ := bytes.Cut(data, []byte("\n"))
	sum, ours := bytes.CutPrefix(head, []byte(cacheHead))
	if !ours {
		return nil, nil, errors.New("it is of another version, or not a file of measurements")
	}
	if string(sum) != checksum(body) {
		return nil, nil, errors.New("it is damaged")
	}
	z, err := gzip.NewReader(bytes.NewReader(body))
	if err != nil {
		return nil, nil, err
	}
	text, err := io.ReadAll(io.LimitReader(z, maxCache+1))
	if err != nil {
		return nil, nil, err
	}
	if len(text) > maxCache {
		return nil, nil, errors.New("it is too large")
	}
	var c cached
	if err := json.Unmarshal(text, &c); err != nil {
		return nil, nil, err
	}
	k, err := c.known()
	return k, c.Health, err
}

func checksum(body []byte) string {
	h := xxh3.Hash128(body).Bytes()
	return hex.EncodeToString(h[:])
}

// known turns the file's contents into measurements, and refuses what cannot be one.
func (c *cached) known() (*blocking.Known, error) {
	k := &blocking.Known{Pitch: c.Pitch, Depth: c.Depth, Touch: c.Touch}
	for _, p := range c.Pieces {
		raw, err := hex.DecodeString(p)
		var h mesh.Hash
		if err != nil || copy(h[:], raw) != len(h) {
			return nil, fmt.Errorf("%q is no content hash", p)
		}
		k.Pieces = append(k.Pieces, h)
	}
	n := len(k.Pieces)
	for _, a := range c.Axes {
		if len(a.Broken) != n {
			return nil, errors.New("its lists are not of one length")
		}
		axis := blocking.KnownAxis{Dir: a.Dir, Contact: a.Contact, Broken: a.Broken}
		for _, p := range a.Pairs {
			pair := blocking.KnownPair{Lo: int(p[0]), Hi: int(p[1]), Bits: uint8(p[2]), Deep: p[3], Volume: p[4], Touch: p[5], Gap: p[6], Near: p[7]}
			if pair.Lo < 0 || pair.Lo >= pair.Hi || pair.Hi >= n || !blocking.Evidence(pair.Bits) {
				return nil, errors.New("it names pieces that are not in it")
			}
			axis.Pairs = append(axis.Pairs, pair)
		}
		for _, p := range a.Checked {
			if p[0] < 0 || p[0] >= p[1] || p[1] >= n || p[2] < 0 || p[2] > math.MaxUint8 || !blocking.Evidence(uint8(p[2])) {
				return nil, errors.New("it names pieces that are not in it")
			}
			axis.Checked = append(axis.Checked, blocking.KnownPair{Lo: p[0], Hi: p[1], Bits: uint8(p[2])})
		}
		k.Axes = append(k.Axes, axis)
	}
	return k, nil
}

// keep writes what was measured, at once or not at all. A file that is not one of
// measurements is left alone.
func keep(path string, k *blocking.Known, health map[string]*mesh.Health) error {
	old, err := readCache(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return fmt.Errorf("%s: %w", kits.Plain(path), err)
	case !bytes.HasPrefix(old, []byte("dryfit measurements ")):
		return fmt.Errorf("%s is not a file of measurements", kits.Plain(path))
	}
	data, err := pack(k, health)
	if err != nil {
		return err
	}
	if bytes.Equal(data, old) {
		return nil
	}
	tmp, err := os.CreateTemp(filepath.Dir(path), ".dryfit-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name()) // gone already when all went well
	_, err = tmp.Write(data)
	if err == nil {
		err = tmp.Chmod(0o644) // as any other file beside the kit
	}
	if cerr := tmp.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return err
	}
	return os.Rename(tmp.Name(), path)
}

func pack(k *blocking.Known, health map[string]*mesh.Health) ([]byte, error) {
	c := cached{Pitch: k.Pitch, Depth: k.Depth, Touch: k.Touch, Health: health}
	for _, h := range k.Pieces {
		c.Pieces = append(c.Pieces, hex.EncodeToString(h[:]))
	}
	for _, a := range k.Axes {
		ca := cacheAxis{Dir: a.Dir, Contact: a.Contact, Broken: a.Broken}
		for _, p := range a.Pairs {
			ca.Pairs = append(ca.Pairs, [8]float64{float64(p.Lo), float64(p.Hi), float64(p.Bits), p.Deep, p.Volume, p.Touch, p.Gap, p.Near})
		}
		for _, p := range a.Checked {
			ca.Checked = append(ca.Checked, [3]int{p.Lo, p.Hi, int(p.Bits)})
		}
		c.Axes = append(c.Axes, ca)
	}
	text, err := json.Marshal(c)
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
