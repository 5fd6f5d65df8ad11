package asset

import "testing"

func TestDetectLanguages(t *testing.T) {
	checkDetect(t, map[string]detectTest{
		"German": {`
Becken
	Oberschenkel_links
		Unterschenkel_links
			Fuß_links
	Schulter R
		Oberarm R
			Unterarm R
				Handgelenk R
					Zeigefinger R`, []string{
			"left thigh: Oberschenkel_links > Unterschenkel_links",
			"right upper arm: Oberarm R > Unterarm R",
			"right forearm: Unterarm R > Handgelenk R ~ Handgelenk R",
		}},
		"French": {`
bassin
	cuisse_gauche
		genou_gauche
			cheville_gauche
	epaule_d
		bras_d
			avant-bras_d
				main_d
	épaule_g
		bras_g
			avant-bras_g
				main_g`, []string{
			"left thigh: cuisse_gauche > genou_gauche",
			"left upper arm: bras_g > avant-bras_g",
			"right upper arm: bras_d > avant-bras_d",
			"left forearm: avant-bras_g > main_g ~ main_g",
			"right forearm: avant-bras_d > main_d ~ main_d",
		}},
		"Spanish": {`
pelvis
	muslo_izq
		rodilla_izq
			tobillo_izq
	Brazo Derecho
		Antebrazo Derecho
			Muñeca Derecha`, []string{
			"left thigh: muslo_izq > rodilla_izq",
			"right upper arm: Brazo Derecho > Antebrazo Derecho",
			"right forearm: Antebrazo Derecho > Muñeca Derecha ~ Muñeca Derecha",
		}},
		"Italian": {`
bacino
	coscia_sx
		ginocchio_sx
			caviglia_sx
	braccio_dx
		avambraccio_dx
			mano_dx`, []string{
			"left thigh: coscia_sx > ginocchio_sx",
			"right upper arm: braccio_dx > avambraccio_dx",
			"right forearm: avambraccio_dx > mano_dx ~ mano_dx",
		}},
		"Portuguese": {`
bacia
	coxa_esquerda
		canela_esquerda
			pé_esquerdo
	braço_direito
		antebraço_direito
			mão_direita`, []string{
			"left thigh: coxa_esquerda > canela_esquerda",
			"right upper arm: braço_direito > antebraço_direito",
			"right forearm: antebraço_direito > mão_direita ~ mão_direita",
		}},
		"Dutch": {`
bekken
	bovenbeen_links
		onderbeen_links
			voet_links
	bovenarm_rechts
		onderarm_rechts
			hand_rechts`, []string{
			"left thigh: bovenbeen_links > onderbeen_links",
			"right upper arm: bovenarm_rechts > onderarm_rechts",
			"right forearm: onderarm_rechts > hand_rechts ~ hand_rechts",
		}},
		"Japanese": {`
腰
	左足
		左ひざ
			左足首
				左つま先
		左足補助
	右肩
		右腕
			右腕ひねり
				右ひじ
					右前腕ひねり
						右手首
							右親指１`, []string{
			"left thigh: 左足 > 左ひざ",
			"right upper arm: 右腕 > 右ひじ",
			"right forearm: 右ひじ > 右手首 ~ 右手首",
		}},
	})
}
