package answer

// Class is a class whose figures were asked for, up to a week.
type Class struct {
	Name  string `json:"name"` // may be empty
	File  string `json:"file"`
	Week  int    `json:"week"`  // from 1
	Title string `json:"title"` // of the week; may be empty
	Weeks int    `json:"weeks"` // how many the class has
}
