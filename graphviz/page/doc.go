// Package page shows a kit in a browser: the model in 3D at any step, findings, last
// calls, tree and lists.
//
//	project -> Model and shapes: plain data for the page
//	    -> Serve: on this machine, follows changes of the files
//	    -> Export: static files that need no server
//
// The page needs nothing from outside. Its scripts are plain files, one for each idea,
// that share one object; they work from a server and from disk alike.
package page
