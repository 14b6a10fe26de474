// Package plan proves that a kit can be built, or explains why it cannot.
//
//	kit -> rules: needs and clauses, each with the statement it came from
//	    -> solution: straight ways first, then more, by peeling from the end
//	    -> sequence: the order a person wants, sub-builds, last calls
//	    or findings: roots, smallest conflicts, verified repairs
//
// The package knows nothing of files, terminals or drawings. It never changes a
// kit; a repair is tried by building the rules again with one change.
package plan
