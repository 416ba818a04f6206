package handout

// Printable is printable, for its tests.
var Printable = printable
