// Package fixes turns findings into changes that were tried: each is written into a copy of the layout's text, the copy is
// read and checked whole, and a change counts only if its finding is gone and nothing above a note is new. All
// changes together make a plan, in working order, and a copy of the layout with them can be saved.
package fixes
