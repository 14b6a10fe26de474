package mesh

import (
	"bytes"
	"errors"
	"fmt"
	"io"
)

// An STL file is binary or text. Both may begin with "solid", so that the size
// decides: a binary file is 84 bytes and 50 for each triangle that it announces.
// STL states no unit.
const (
	stlHead   = 84
	stlRecord = 50
)

func readSTL(in input, o Options) ([]*Mesh, error) {
	f, err := in.open()
	if err != nil {
		return nil, err
	}
	defer f.Close()
	head := make([]byte, min(in.size, 512))
	if _, err := f.ReadAt(head, 0); err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	switch count, ok := announced(head); {
	case ok && in.size == stlHead+stlRecord*count:
		return readBinarySTL(f, in, int(count), o)
	case foreign(head) == "" && startsSolid(head):
		return readTextSTL(io.NewSectionReader(f, 0, in.size), o)
	default:
		return nil, notSTL(head, in.size, count)
	}
}

// announced is the number of triangles in the head of a binary file.
func announced(head []byte) (count int64, ok bool) {
	if len(head) < stlHead {
		return 0, false
	}
	h := head[80:84]
	return int64(h[0]) | int64(h[1])<<8 | int64(h[2])<<16 | int64(h[3])<<24, true
}

func startsSolid(head []byte) bool {
	first, _ := word(bytes.TrimLeft(skipMark(head), "\r\n\t "))
	if i := bytes.IndexAny(first, "\r\n"); i >= 0 {
		first = first[:i]
	}
	return is(first, "solid")
}

// notSTL says what is wrong with a file that is neither kind.
func notSTL(head []byte, size, count int64) error {
	other := foreign(head)
	switch {
	case other != "" && head[0] != 0 && bytes.IndexByte([]byte("\xFF\xFEP\x1F"), head[0]) >= 0:
		return errors.New(other)
	case len(head) < stlHead:
		return fmt.Errorf("is no STL file: it has only %d bytes and does not begin with the word solid", size)
	case other == "":
		return fmt.Errorf("is no STL file: it does not begin with the word solid, and as a binary file it would announce %d triangles, %d bytes, but has %d", count, stlHead+stlRecord*count, size)
	}
	is := "was probably cut off"
	if size > stlHead+stlRecord*count {
		is = "has bytes to spare"
	}
	return fmt.Errorf("the binary file announces %d triangles, which are %d bytes, but has %d: it %s; export it again", count, stlHead+stlRecord*count, size, is)
}
