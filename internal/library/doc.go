// Package library splits many characters into a folder: some at a time, past
// those that fail, and without doing again what is done.
//
// What is done is known by content. A record in the folder (RecordName) holds,
// for each output, one hash of all that its bytes come from – the source, the
// files it refers to that were read, the limb file, the options, the program's
// version and the record's own – and the hash of the output itself. Where both
// are found again the output is left alone; otherwise it is made anew. Times and
// names of sources play no part, so a library may be copied or checked out anew.
// No output is ever removed: that of a source that is gone, or fails now, stays as
// it was.
//
// Outputs and record are written whole, and the record after each output, before
// its worker goes on. A run that is killed loses the files under way, and the next
// one ends with the same bytes as if nothing had happened. One run at a time
// writes to a folder.
package library
