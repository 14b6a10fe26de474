// Package booklet writes the illustrated instructions of a kit from its proven order,
// so that they can never show a step that cannot be done.
//
//	report and meshes -> contents, worded -> Book: chapters of blocks
//	    -> HTML, one file that needs nothing else
//	    -> PDF, with bookmarks, links and embedded fonts
//	    -> the check of the booklet against the rules of good instructions
package booklet
