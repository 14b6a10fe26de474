package threemf

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"strings"

	"dryfit/kits/mesh/scan"
	"dryfit/kits/plain"
)

// Limits of a 3MF package, which is a zip archive.
const (
	maxEntries  = 50_000
	maxInflated = 2 << 30  // bytes, of all parts that are read
	maxRatio    = 100      // how many times its compressed size a part may expand to (meshes expand some 5 to 30 times; ours),
	freeRatio   = 16 << 20 // beyond this many bytes
)

// pack is an open package. Parts are keyed by their names in lower case without
// the leading slash, as the packaging conventions compare them.
type pack struct {
	parts            map[string]*zip.File
	byEnding, byName map[string]string // content types, when they have been read
	spent            uint64            // bytes of the parts opened so far
}

func openPack(f io.ReaderAt, size int64) (*pack, error) {
	z, err := zip.NewReader(f, size)
	switch {
	case errors.Is(err, zip.ErrFormat):
		return nil, errors.New("is not a 3MF file: it is not a zip archive, or was truncated; export it again")
	case err != nil && !errors.Is(err, zip.ErrInsecurePath): // names are judged below
		return nil, fmt.Errorf("the zip archive is broken: %w", err)
	case len(z.File) > maxEntries:
		return nil, fmt.Errorf("the zip archive has %d entries, more than %d, the limit", len(z.File), maxEntries)
	}
	p := &pack{parts: make(map[string]*zip.File, len(z.File))}
	for _, e := range z.File {
		if strings.HasSuffix(e.Name, "/") {
			continue
		}
		name, err := partName(e.Name)
		if err != nil {
			return nil, fmt.Errorf("the zip archive has an entry %s: %w", scan.Quote(e.Name), err)
		}
		if p.parts[name] != nil {
			return nil, fmt.Errorf("the zip archive has %s twice (capital letters make no difference); export the part again", scan.Quote(e.Name))
		}
		p.parts[name] = e
	}
	return p, nil
}

// partName normalises a part's name for comparison.
func partName(s string) (string, error) {
	if strings.Contains(s, "%") {
		plain, err := url.PathUnescape(s)
		if err != nil {
			return "", errors.New("its name has a % that begins no escape")
		}
		s = plain
	}
	s = strings.TrimPrefix(s, "/")
	for segment := range strings.SplitSeq(s, "/") {
		if segment == "" || strings.Trim(segment, ".") == "" {
			return "", errors.New("its name has an empty part, or one of only dots, which could lead out of the package")
		}
	}
	if strings.ContainsAny(s, "\\\x00") {
		return "", errors.New("its name has a character that is not allowed")
	}
	return strings.ToLower(s), nil
}

// target is the name of the part that a relationship of another part leads to.
func target(from, to string) (string, error) {
	if !strings.HasPrefix(to, "/") {
		to = from[:strings.LastIndexByte(from, '/')+1] + to
	}
	return partName(to)
}

// shown is a part's name as the package writes it.
func (p *pack) shown(name string) string {
	if e := p.parts[name]; e != nil {
		name = strings.TrimPrefix(e.Name, "/")
	}
	return plain.Text("/" + name)
}

// open starts to inflate a part. What the archive says of its size counts against the
// limits, before any work: no more than that is ever inflated.
func (p *pack) open(name string) (io.ReadCloser, error) {
	e := p.parts[name]
	switch {
	case e == nil:
		return nil, fmt.Errorf("the package has no part %s; export it again", p.shown(name))
	case e.Mode()&fs.ModeType != 0:
		return nil, fmt.Errorf("%s is a link or another special file, which is not followed", p.shown(name))
	case e.Flags&1 != 0:
		return nil, fmt.Errorf("%s is encrypted; export it without a password", p.shown(name))
	case e.Method != zip.Store && e.Method != zip.Deflate:
		return nil, fmt.Errorf("%s is compressed by method %d; 3MF files are only deflated or stored", p.shown(name), e.Method)
	case e.UncompressedSize64 > freeRatio && e.UncompressedSize64/maxRatio > e.CompressedSize64:
		return nil, fmt.Errorf("%s expands to more than %d times its compressed size, the limit", p.shown(name), maxRatio)
	case e.UncompressedSize64 > maxInflated-p.spent:
		return nil, fmt.Errorf("the package holds more than %d MB, the limit; split it", maxInflated>>20)
	}
	p.spent += e.UncompressedSize64
	r, err := e.Open()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.shown(name), err)
	}
	return &inflating{r}, nil
}

// inflating says what is wrong with a damaged part.
type inflating struct{ io.ReadCloser }

func (r *inflating) Read(b []byte) (int, error) {
	n, err := r.ReadCloser.Read(b)
	switch {
	case errors.Is(err, zip.ErrChecksum):
		return n, errors.New("the part is damaged (its checksum is wrong); export it again")
	case errors.Is(err, zip.ErrFormat):
		return n, errors.New("the part is damaged (it is longer than the archive says); export it again")
	}
	return n, err
}
