// Package page shows a kit in a browser: the model in 3D as it stands at any step,
// findings, last calls, tree and lists.
//
//	report, meshes -> Model: plain data for the page
//	    -> Server: on this machine, follows changes of the files
//	    -> Export: static files that need no server
//
// All that the page needs is embedded. Its scripts are plain files, one for each idea,
// that share one object; they work from a server and from disk alike.
package page
