package asset

import (
	"strings"
	"sync"
	"unicode"
)

// meaning is what the words of a joint's name say, as a set.
type meaning uint32

const (
	saysLeft meaning = 1 << iota
	saysRight
	saysUpper // upper arm, upper leg
	saysLower
	saysFront // front leg
	saysHind
	saysFore // forearm, but foreleg: upper end of neither
	saysArm
	saysLeg
	saysShoulder
	saysClavicle
	saysUpperArm
	saysForearm
	saysHand
	saysHip
	saysThigh
	saysShin
	saysFoot
	saysPaw   // a hand or a foot
	saysDigit // fingers and toes
	saysHelper
)

// vocabulary are words for body parts, in English, German, French, Spanish,
// Italian, Portuguese, Dutch and Japanese (also in Latin letters), without
// accents. Words whose sense changes with the language take the common sense:
// tibia is the shin everywhere.
var vocabulary = []struct {
	says  meaning
	words string
}{
	{saysLeft, `left l lft lt links linke linker linkes gauche izquierda izquierdo izq sinistra sinistro sx
		esquerda esquerdo esq hidari 左`},
	{saysRight, `right r rgt rt rechts rechte rechter rechtes droite droit derecha derecho destra destro dx
		direita direito migi 右`},
	{saysUpper, `upper up top proximal ober obere oberer haut superieur superieure superior superiore sup boven
		bovenste 上`},
	{saysLower, `lower low lo down bottom distal unter untere unterer bas inferieur inferieure inferior inferiore
		inf onder onderste 下`},
	{saysFront, `front frontal forward vorder vorne avant anterieur anterieure delantera delantero anterior
		anteriore davanti dianteira dianteiro voor 前 mae`},
	{saysHind, `hind rear back hinter hinten arriere posterieur posterieure trasera trasero posterior posteriore
		traseira traseiro achter 後 後ろ ushiro`},
	{saysFore, `fore`},
	{saysArm, `arm arms bras brazo braccio braco 腕 うで ude`},
	{saysLeg, `leg legs bein jambe patte pierna pata gamba zampa perna been poot 足 脚 あし ashi`},
	{saysShoulder, `shoulder schulter epaule hombro spalla ombro schouder 肩 かた kata`},
	{saysClavicle, `clavicle clav collar collarbone scapula schlusselbein schluesselbein clavicule clavicula
		clavicola sleutelbeen omoplate escapula scapola 鎖骨 sakotsu`},
	{saysUpperArm, `upperarm uparm humerus oberarm bovenarm 上腕 二の腕 jowan`},
	{saysForearm, `forearm lowerarm elbow ulna radius unterarm ellbogen ellenbogen avantbras coude antebrazo codo
		avambraccio gomito antebraco cotovelo onderarm voorarm elleboog 前腕 ひじ 肘 hiji zenwan`},
	{saysHand, `hand wrist carpus handgelenk main poignet mano muneca polso mao pulso punho pols 手 手首 tekubi`},
	{saysHip, `hip hufte huefte hanche cadera anca quadril heup 股 股関節`},
	{saysThigh, `thigh upperleg upleg femur oberschenkel cuisse muslo coscia coxa bovenbeen dij 太もも 太腿 もも 腿
		大腿 futomomo momo`},
	{saysShin, `shin shank calf lowerleg lowleg knee crus tibia fibula unterschenkel knie wade schienbein mollet genou
		pantorrilla espinilla rodilla stinco polpaccio ginocchio canela panturrilha joelho onderbeen scheen kuit
		すね 脛 ひざ 膝 hiza sune`},
	{saysFoot, `foot feet ankle hock tarsus metatarsus fuss knochel knoechel fussgelenk pied cheville pie tobillo
		piede caviglia pe tornozelo voet enkel 足首 ashikubi`},
	{saysPaw, `paw hoof pfote huf sabot pezuna zampetta zoccolo casco hoef pastern fetlock cannon`},
	{saysFront | saysLeg, `foreleg forelimb vorderbein vorderlauf voorbeen voorpoot 前足 前脚 maeashi`},
	{saysHind | saysLeg, `hindleg hindlimb hinterbein hinterlauf achterbeen achterpoot 後足 後脚 atoashi`},
	{saysFront | saysPaw, `forepaw forefoot vorderpfote voorvoet metacarpus`},
	{saysHind | saysPaw, `hindpaw hindfoot hinterpfote`},
	{saysDigit, `finger fingers thumb index middle ring pinky pinkie little knuckle phalanx metacarpal metatarsal toe
		toes ball digit daumen zeigefinger mittelfinger ringfinger zeh zehe zehen doigt pouce majeur annulaire
		auriculaire orteil dedo pulgar anular menique dito pollice indice medio anulare mignolo polegar indicador
		anelar minimo vinger duim wijsvinger teen tenen 指 親指 人指 人差指 中指 薬指 小指 つま先 爪先 yubi tsumasaki`},
	{saysHelper, `twist twister roll helper aux auxiliary end tip nub ik pole target goal effector ctrl control
		controller handle locator dummy socket attach attachment prop weapon holder corrective muscle bulge jiggle
		part segment cloth sleeve pad torsion hilfs 捩 捩り 先 補助 キャンセル`},
}

// dictionary is the vocabulary by word.
var dictionary = sync.OnceValue(func() map[string]meaning {
	d := map[string]meaning{}
	for _, entry := range vocabulary {
		for _, word := range strings.Fields(entry.words) {
			d[word] |= entry.says
		}
	}
	return d
})

// Bounds on what is looked at in a name; no honest one is longer.
const (
	longestName = 256 // bytes
	longestWord = 48  // runes
	longestRun  = 24  // bytes of a word taken for several
)

// splitName takes a name apart into lower-case words: at signs and spaces, at
// numbers, which are left out, where a capital begins a word (leftArm, LArm)
// and where the script changes.
func splitName(name string) []string {
	if len(name) > longestName {
		name = strings.ToValidUTF8(name[:longestName], "")
	}
	var words []string
	var word []rune
	flush := func() {
		if len(word) > 0 {
			words = append(words, plain(word))
			word = nil
		}
	}
	runes := []rune(name)
	for i, r := range runes {
		r = halfWidth(r)
		switch {
		case unicode.Is(unicode.Mn, r): // a combining accent
			continue
		case !unicode.IsLetter(r) && r != 'ー':
			flush()
			continue
		}
		if n := len(word); n > 0 {
			last := word[n-1]
			nextLower := i+1 < len(runes) && unicode.IsLower(runes[i+1])
			switch {
			case unicode.IsUpper(r) && (unicode.IsLower(last) || nextLower && unicode.IsUpper(last)),
				isLatin(r) != isLatin(last):
				flush()
			}
		}
		word = append(word, r)
	}
	flush()
	return words
}

// halfWidth maps the full-width forms of ASCII to ASCII.
func halfWidth(r rune) rune {
	if r >= '！' && r <= '～' {
		return r - '！' + '!'
	}
	return r
}

func isLatin(r rune) bool { return unicode.Is(unicode.Latin, r) }

// accents of the languages of the vocabulary.
var accents = strings.NewReplacer("ß", "ss", "æ", "ae", "œ", "oe", "á", "a", "à", "a", "â", "a", "ä", "a", "ã", "a", "å", "a",
	"ç", "c", "é", "e", "è", "e", "ê", "e", "ë", "e", "í", "i", "ì", "i", "î", "i", "ï", "i", "ñ", "n",
	"ó", "o", "ò", "o", "ô", "o", "ö", "o", "õ", "o", "ú", "u", "ù", "u", "û", "u", "ü", "u")

// plain is a word in lower case, without accents.
func plain(word []rune) string {
	if len(word) > longestWord {
		word = word[:longestWord]
	}
	return accents.Replace(strings.ToLower(string(word)))
}

// lookUp is what one word says: it may be two or more run together.
func lookUp(word string) meaning {
	d := dictionary()
	if m, ok := d[word]; ok {
		return m
	}
	runes := []rune(word)
	if len(runes) == 0 {
		return 0
	}
	if !isLatin(runes[0]) {
		return scan(runes)
	}
	m, _ := runTogether(word)
	return m
}

// runTogether takes a word for several without a gap, such as leftupperarm,
// lthigh or thighr, if all of it can be read so. Of the ways to read it the one
// with the longest first word is taken.
func runTogether(word string) (meaning, bool) {
	d := dictionary()
	if len(word) > longestRun {
		return 0, false
	}
	// reads[i] is what word[i:] says, -1 where it cannot be read.
	reads := make([]int64, len(word)+1)
	for i := len(word) - 1; i >= 0; i-- {
		reads[i] = -1
		for j := i + 1; j <= len(word); j++ {
			m, ok := d[word[i:j]]
			// Two letters are too few to tell a word within a word; single
			// ones are sides, at either end.
			short := j-i < 3 && !(j-i == 1 && (i == 0 || j == len(word)) && m&(saysLeft|saysRight) != 0)
			if ok && !short && reads[j] >= 0 && !(i == 0 && j == len(word)) {
				reads[i] = int64(m) | reads[j]
			}
		}
	}
	if reads[0] <= 0 {
		return 0, false
	}
	return meaning(reads[0]), true
}

// scan reads a script without gaps between words: the longest word at each
// place, passing over what it does not know.
func scan(runes []rune) (m meaning) {
	const longest = 5 // runes of the longest such word
	d := dictionary()
	for i := 0; i < len(runes); {
		step := 1
		for n := min(longest, len(runes)-i); n > 0; n-- {
			if says, ok := d[string(runes[i:i+n])]; ok {
				m |= says
				step = n
				break
			}
		}
		i += step
	}
	return m
}

// meaningOf is what all the words of a name say.
func meaningOf(words []string) (m meaning) {
	for i, word := range words {
		says := lookUp(word)
		// Two words for what other languages say in one.
		if word == "avant" && i+1 < len(words) && words[i+1] == "bras" {
			says = saysForearm
		}
		m |= says
	}
	return m
}

// role is the place of a joint in a limb, as far as its name tells.
type role int

const (
	unknownRole role = iota
	passedOver       // fingers, toes, twist joints and other helpers
	clavicle
	shoulder
	someArm
	upperArm
	forearm
	hand
	hip
	someLeg
	thigh
	shin
	foot
	paw
)

// roleOf tells the role and whether the limb is a front leg, whose parts are
// those of an arm.
func roleOf(m meaning) (r role, foreleg bool) {
	has := func(what meaning) bool { return m&what != 0 }
	foreleg = has(saysFront) && has(saysLeg|saysThigh|saysShin|saysFoot|saysPaw|saysHip) ||
		has(saysFore) && has(saysLeg|saysFoot|saysPaw)
	switch {
	case has(saysHelper | saysDigit):
		return passedOver, false
	case has(saysPaw):
		r = paw
	case has(saysHand):
		r = hand
	case has(saysFoot):
		r = foot
	case has(saysForearm), has(saysArm) && has(saysLower|saysFore):
		r = forearm
	case has(saysUpperArm), has(saysArm) && has(saysUpper):
		r = upperArm
	case has(saysShin), has(saysLeg) && has(saysLower):
		r = shin
	case has(saysThigh), has(saysLeg) && has(saysUpper):
		r = thigh
	case has(saysClavicle):
		r = clavicle
	case has(saysShoulder):
		r = shoulder
	case has(saysArm):
		r = someArm
	case has(saysLeg):
		r = someLeg
	case has(saysHip) && has(saysLeft|saysRight): // without a side it is the pelvis
		r = hip
	}
	if foreleg {
		r = map[role]role{paw: hand, foot: hand, shin: forearm, thigh: upperArm, someLeg: someArm, hip: shoulder}[r]
	}
	return r, foreleg
}

// isArm reports whether a role is a part of an arm or front leg.
func (r role) isArm() bool { return r >= clavicle && r <= hand }

// isLeg reports whether a role is a part of a leg.
func (r role) isLeg() bool { return r >= hip && r <= foot }

// isTip reports whether a role ends a limb.
func (r role) isTip() bool { return r == hand || r == foot || r == paw }

// isThigh reports whether a limb is a thigh, by its own name or else by its
// joint's.
func isThigh(spec LimbSpec) bool { return specRole(spec) == thigh }

// isUpperArm reports whether a limb is an upper arm, or the upper bone of a
// front leg, by its own name or else by its joint's.
func isUpperArm(spec LimbSpec) bool { return specRole(spec) == upperArm }

func specRole(spec LimbSpec) role {
	for _, name := range []string{spec.Name, spec.Joint} {
		r, _ := roleOf(meaningOf(splitName(name)))
		switch r {
		case hip: // joints are also called by the joint itself, not the bone
			return thigh
		case shoulder:
			return upperArm
		case thigh, upperArm, forearm, shin:
			return r
		}
	}
	return unknownRole
}

// sideOf is -1 for the right, 1 for the left and 0 for neither or both.
func sideOf(m meaning) int {
	switch m & (saysLeft | saysRight) {
	case saysLeft:
		return 1
	case saysRight:
		return -1
	}
	return 0
}
