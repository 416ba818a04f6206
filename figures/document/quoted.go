package document

import (
	"regexp"
	"strconv"
	"strings"
)

// plain is what YAML reads as text without quotes, in a list or in braces.
var plain = regexp.MustCompile(`^(?:\.{1,2}/)*[\pL](?:[\pL\pN ()'./-]*[\pL\pN)./])?$`)

// Quoted writes a text of one line so that [Node.Text] reads it back as it is: in
// quotes where YAML would take it for something else, in a list or in braces too.
func Quoted(s string) string {
	if plain.MatchString(s) && !strings.Contains(s, "  ") {
		switch strings.ToLower(s) {
		case "null", "true", "false", "yes", "no", "on", "off", "y", "n":
		default:
			return s
		}
	}
	return strconv.Quote(s)
}
