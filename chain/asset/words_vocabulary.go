package asset

import (
	"strings"
	"sync"
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
	saysNothing meaning = 0 // known, so that thighbone is read as two words
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
		clavicola sleutelbeen shoulderblade schulterblatt omoplate escapula scapola 鎖骨 sakotsu`},
	{saysUpperArm, `upperarm uparm humerus oberarm bovenarm 上腕 二の腕 jowan`},
	{saysForearm, `forearm lowerarm elbow ulna radius unterarm ellbogen ellenbogen avantbras coude antebrazo codo
		avambraccio gomito antebraco cotovelo onderarm voorarm elleboog 前腕 ひじ 肘 hiji zenwan`},
	{saysHand, `hand palm handflache handflaeche paume palma handpalm tenohira 手のひら wrist carpus handgelenk main poignet mano muneca polso mao pulso punho pols 手 手首 tekubi`},
	{saysHip, `hip haunch hufte huefte hanche cadera anca quadril heup 股 股関節`},
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
	{saysNothing, `bone joint jnt knochen hueso osso`},
	{saysHelper, `twist twister roll helper aux auxiliary end tip ik pole target goal effector ctrl control
		controller handle attach attachment prop weapon holder corrective muscle bulge jiggle
		part segment cloth sleeve pad torsion hilfs 捩 捩り 先 補助 ねじり ひねり`},
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
