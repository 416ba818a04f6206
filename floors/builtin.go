package floors

import (
	"cmp"
	"embed"
	"fmt"
	"slices"
	"strings"
	"sync"
)

//go:embed rooms/*.yaml
var roomFiles embed.FS

// builtIn loads the rooms once. They are part of the program and tested with
// it, so a fault in one is a fault of the program.
var builtIn = sync.OnceValue(func() map[string]*Room {
	entries, err := roomFiles.ReadDir("rooms")
	rooms := map[string]*Room{}
	for _, e := range entries {
		var data []byte
		var room *Room
		if data, err = roomFiles.ReadFile("rooms/" + e.Name()); err == nil {
			room, err = Load(e.Name(), data)
		}
		if err != nil {
			panic(fmt.Sprintf("a built-in room is faulty: %v", err))
		}
		rooms[strings.ReplaceAll(strings.TrimSuffix(e.Name(), ".yaml"), "-", " ")] = room
	}
	return rooms
})

// BuiltIn lists the rooms that come with the program, sorted by name. They are
// invented. The rooms are shared: do not change them.
func BuiltIn() []*Room {
	var rooms []*Room
	for _, r := range builtIn() {
		rooms = append(rooms, r)
	}
	slices.SortFunc(rooms, func(a, b *Room) int { return cmp.Compare(a.Name, b.Name) })
	return rooms
}

// Named finds a built-in room by its short name – studio, village hall,
// ballroom, clubroom – or its full name, in capitals or not.
func Named(name string) (*Room, bool) {
	name = strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(name, "-", " ")), " "))
	if r, ok := builtIn()[name]; ok {
		return r, true
	}
	for _, r := range builtIn() {
		if strings.ToLower(r.Name) == name {
			return r, true
		}
	}
	return nil, false
}

// Names lists the short names by which [Named] finds the built-in rooms.
func Names() []string {
	var names []string
	for n := range builtIn() {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}
