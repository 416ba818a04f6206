package answer

// Class is a class whose figures were asked for, up to a week.
type Class struct {
	Name  string `json:"name"` // may be empty
	File  string `json:"file"`
	Week  int    `json:"week"`  // from 1
	Title string `json:"title"` // of the week; may be empty
	Weeks int    `json:"weeks"` // how many the class has
	// Note is the week's; Style, Room, Stride in metres and Tempo are those of the
	// file, empty or 0 where it does not say.
	Note   string `json:"note"`
	Style  string `json:"style"`
	Room   string `json:"room"`
	Stride Number `json:"stride"`
	Tempo  Number `json:"tempo"`
	// Taught are the figures of the week, as the file names them.
	Taught []string `json:"taught"`
}
