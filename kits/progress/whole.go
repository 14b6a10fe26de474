package progress

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/zeebo/xxh3"

	"dryfit/kits/format"
	"dryfit/kits/plain"
	"dryfit/kits/regular"
)

// endMark begins the last line that dryfit writes. A checksum of all that is above follows.
const endMark = "# end of file, checksum "

// promise is in the heading of a new file: without it a missing last line means nothing.
const promise = "# The last line shows that the file is whole"

// split takes the end line out of a file. sum is its checksum, empty if there is none.
func split(data []byte) (body []byte, sum string) {
	lines := bytes.SplitAfter(data, []byte("\n"))
	for _, l := range lines {
		if rest, found := bytes.CutPrefix(l, []byte(endMark)); found {
			sum = strings.TrimSpace(string(rest))
		} else {
			body = append(body, l...)
		}
	}
	return body, sum
}

// checksum is that of a text, however its lines end.
func checksum(body []byte) string {
	return fmt.Sprintf("%016x", xxh3.Hash(bytes.TrimSpace(unixLines(body))))
}

func unixLines(text []byte) []byte { return bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")) }

// ended is a text with its end line.
func ended(body []byte) []byte {
	text := bytes.TrimRight(body, "\n")
	return fmt.Appendf(nil, "%s\n%s%s\n", text, endMark, checksum(body))
}

// backup is where the file is kept as dryfit wrote it last.
func backup(path string) string { return path + ".bak" }

// lastWhole is what dryfit wrote last, nil if that is not known.
func lastWhole(path string) []byte {
	data, err := regular.Read(backup(path), format.MaxBytes+1)
	if err != nil {
		return nil // it is only a help
	}
	if body, sum := split(data); sum != checksum(body) {
		return nil
	}
	return data
}

// checkWhole is the error of a file that was cut off. Without an end line that is one that
// breaks off in what dryfit wrote last or, when that is not known, one that promises the line.
func checkWhole(path string, data []byte) error {
	_, sum := split(data)
	if len(sum) == len(checksum(nil)) {
		return nil
	}
	last := lastWhole(path)
	switch {
	case last != nil && bytes.HasPrefix(unixLines(last), bytes.TrimRight(unixLines(data), "\n")):
		return fmt.Errorf("%s is cut off: its last line is missing; copy %s over it, which is the last whole file, or delete that to go on with what is left",
			plain.Text(path), plain.Text(backup(path)))
	case last == nil && (sum != "" || bytes.Contains(data, []byte(promise))):
		return fmt.Errorf("%s is cut off: its last line is missing; restore it from a copy, or delete the line %q to go on with what is left",
			plain.Text(path), promise)
	}
	return nil
}

// EditedByHand reports whether the file is no longer as dryfit wrote it.
func (f *File) EditedByHand() bool { return f.sum != "" && f.sum != checksum(f.text) }
