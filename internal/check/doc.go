// Package check finds out what a character's skin loses where its limbs twist
// and bend, with one joint a bone and split, pose by pose.
//
// Poses are put into the character as one more clip, and go through the same
// split as the clips that it came with: what is measured is what a viewer shows.
package check
