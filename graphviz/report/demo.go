package report

// Demo is the list of files written for the demonstration kit.
type Demo struct {
	Folder string   `json:"folder"` // that holds the files
	Files  []string `json:"files"`  // paths below the folder; the kit file first
}
