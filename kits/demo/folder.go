package demo

import "bytes"

// MeshFolder is the folder beside the kit file that the meshes are written into.
const MeshFolder = "parts"

// KitWithMeshes is the text of the kit file with the meshes named in it.
func KitWithMeshes() []byte {
	head, rest, _ := bytes.Cut(Kit, []byte("\nclearance:"))
	return bytes.Join([][]byte{head, []byte("\nmeshes: " + MeshFolder + "\nclearance:"), rest}, nil)
}
