package kits

import "gopkg.in/yaml.v3"

// Tree reads the text of a file that lies beside a kit, such as a progress file, under
// the rules of a kit file: UTF-8, one document, bounded, without anchors, aliases, merge
// keys, tags and control characters. what is what the file is called in faults, and name
// is used for places. It returns nil for a file that holds nothing but comments.
func Tree(name, what string, data []byte) (*yaml.Node, Faults) {
	r := &reader{file: name, what: what}
	root := r.parse(data)
	if root != nil {
		r.inspect(root, 1)
	}
	if len(r.faults) > 0 {
		return nil, r.faults
	}
	return root, nil
}

// DidYouMean returns `, did you mean "x"?` for the nearest of the known names, or
// nothing when none is near. Ties go to the name that comes first.
func DidYouMean(name string, known []string) string { return didYouMean(name, known) }
