package survey

import (
	"fmt"
	"regexp"
	"strings"

	"dryfit/kits/mesh"
)

var copyEnding = regexp.MustCompile(`^(.*)\.([1-9][0-9]{0,3})$`)

// pieceID makes the id of a piece from the name of a mesh: lower-case words joined
// by hyphens, with .1, .2 kept where it numbers copies.
func pieceID(name string) string {
	number := ""
	if m := copyEnding.FindStringSubmatch(name); m != nil {
		name, number = m[1], "."+m[2]
	}
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
	if id == "" || id[0] >= '0' && id[0] <= '9' {
		id = strings.TrimSuffix("piece-"+id, "-")
	}
	return id + number
}

// pieceIDs makes different ids for meshes, in their sequence.
func pieceIDs(meshes []*mesh.Mesh) []string {
	taken := map[string]bool{}
	ids := make([]string, len(meshes))
	for i, m := range meshes {
		id := pieceID(m.Name)
		for n := 2; taken[id]; n++ {
			id = fmt.Sprintf("%s-%d", pieceID(strings.ReplaceAll(m.Name, ".", "-")), n)
		}
		taken[id] = true
		ids[i] = id
	}
	return ids
}
