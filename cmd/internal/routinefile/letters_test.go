package routinefile_test

import "unicode"

// printable are the letters and marks that a name may hold.
var printable = []*unicode.RangeTable{unicode.L, unicode.N, unicode.P, unicode.S, unicode.Zs}
