package compare

import "slices"

// Change is an entry that only one revision has, or that differs.
type Change struct {
	Kind   string  // one of kinds
	Name   string  // in the new revision, or in the old one if it is gone
	What   What    // added, gone or changed
	Fields []Field // what it says, if it changed
}

// What happened to an entry.
type What string

// The ways in which entries differ, as named in JSON.
const (
	Added   What = "added"
	Gone    What = "gone"
	Changed What = "changed"
)

// kinds are the kinds of entries, in the order in which changes are listed.
var kinds = []string{"kit", "fixing", "part", "join", "space", "wire", "task", "service", "balance", "lights", "magnets", "material", "printer"}

// diff compares two lists of items: by kind, what is new or changed in the order
// of the new list, then what is gone. Items are the same if their kind and key
// are or, for what is left over, if their steps have the same name.
func diff(was, is []item) []Change {
	of := match(was, is)
	var list []Change
	taken := map[int]bool{}
	for i, it := range is {
		w, known := of[i]
		if !known {
			list = append(list, Change{it.kind, it.key, Added, nil})
			continue
		}
		taken[w] = true
		fields := fieldDiff(was[w].fields, it.fields)
		if was[w].key != it.key {
			fields = append([]Field{{it.kind, was[w].key, it.key}}, fields...)
		}
		if len(fields) > 0 {
			list = append(list, Change{it.kind, it.key, Changed, fields})
		}
	}
	for w, it := range was {
		if !taken[w] {
			list = append(list, Change{it.kind, it.key, Gone, nil})
		}
	}
	slices.SortStableFunc(list, func(a, b Change) int {
		return slices.Index(kinds, a.Kind) - slices.Index(kinds, b.Kind)
	})
	return list
}

// match finds for items of the new list those of the old one, by kind and key,
// then by kind and the name of the step. Items with equal names are matched in
// order.
func match(was, is []item) map[int]int {
	of, taken := map[int]int{}, map[int]bool{}
	for _, name := range []func(item) string{
		func(it item) string { return "key " + it.key },
		func(it item) string { return it.name },
	} {
		old := map[[2]string][]int{}
		for w, it := range was {
			if k := name(it); !taken[w] && k != "" {
				old[[2]string{it.kind, k}] = append(old[[2]string{it.kind, k}], w)
			}
		}
		for i, it := range is {
			k := [2]string{it.kind, name(it)}
			if _, known := of[i]; known || len(old[k]) == 0 {
				continue
			}
			of[i] = old[k][0]
			taken[of[i]] = true
			old[k] = old[k][1:]
		}
	}
	return of
}

// fieldDiff lists the fields that differ, in the order of the format.
func fieldDiff(was, is []Field) []Field {
	var list []Field
	old := map[string]string{}
	for _, f := range was {
		old[f.Name] = f.New
	}
	for _, f := range is {
		if old[f.Name] != f.New {
			list = append(list, Field{f.Name, old[f.Name], f.New})
		}
		delete(old, f.Name)
	}
	for _, f := range was {
		if value, gone := old[f.Name]; gone {
			list = append(list, Field{f.Name, value, ""})
		}
	}
	return list
}
