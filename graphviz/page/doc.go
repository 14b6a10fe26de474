// Package page shows a kit in a browser: the model in 3D at any step, findings, last
// calls, tree and lists.
//
//	project -> Model and shapes: plain data for the page
//	    -> Serve: on this machine, follows changes of the files
//	    -> Export: static files that need no server
//
// The page loads nothing from other hosts. Its scripts are plain files, one per
// idea, that share one object; they work both from a server and from disk.
package page
