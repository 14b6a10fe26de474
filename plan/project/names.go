package project

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"dryfit/kits/format"
	"dryfit/kits/mesh"
)

// yamlWords are words that YAML would not read as text.
var yamlWords = []string{"null", "true", "false", "yes", "no", "on", "off", "y", "n"}

// maxID limits the length of ids: shorter than a kit file allows, so that a
// number can be added.
const maxID = 54

var copyEnding = regexp.MustCompile(`^(.*)\.([1-9][0-9]{0,3})$`)

// CopyOf splits the id of a copy, such as seat.2, into its part and its number with the
// dot. The number is empty for an id that numbers no copy.
func CopyOf(id string) (part, number string) {
	if m := copyEnding.FindStringSubmatch(id); m != nil {
		return m[1], "." + m[2]
	}
	return id, ""
}

// PieceID makes the id of a piece from the name of a mesh: lower-case words joined
// by hyphens, with .1, .2 kept where it numbers copies.
func PieceID(name string) string {
	name, number := CopyOf(name)
	var b strings.Builder
	for _, c := range strings.ToLower(name) {
		switch {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			b.WriteRune(c)
		default:
			b.WriteByte('-')
		}
	}
	words := strings.FieldsFunc(b.String(), func(c rune) bool { return c == '-' })
	id := strings.Join(words, "-")
	if id == "" || id[0] >= '0' && id[0] <= '9' || slices.Contains(yamlWords, id) || format.Reserved(id) {
		id = strings.TrimSuffix("piece-"+id, "-")
	}
	if most := maxID - len(number); len(id) > most {
		id = strings.TrimRight(id[:most], "-")
	}
	return id + number
}

// pieceIDs makes distinct ids for meshes, in their order.
func pieceIDs(meshes []*mesh.Mesh) []string {
	taken := map[string]bool{}
	ids := make([]string, len(meshes))
	for i, m := range meshes {
		id := PieceID(m.Name)
		for n := 2; taken[id]; n++ {
			id = fmt.Sprintf("%s-%d", PieceID(strings.ReplaceAll(m.Name, ".", "-")), n)
		}
		taken[id] = true
		ids[i] = id
	}
	return ids
}
