// Package quantity holds what records are made of: numbers with units and the
// precision they were written with, days, moments, yes and no, and lists.
//
// Nothing is guessed. A value that could mean two things is refused with a
// sentence that says what was found, what can be read, and what to write
// instead. Nothing here reads the clock or a file.
package quantity
