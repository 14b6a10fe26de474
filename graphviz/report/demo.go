package report

// Demo lists what was written of the demonstration kit.
type Demo struct {
	Folder string   `json:"folder"` // that holds the files
	Files  []string `json:"files"`  // paths below the folder; the kit file first
}
