// The light of Pronate's pictures (internal/report/light.go): a warm key from above on
// the left, a cool fill from the right, a rim from behind, and the sky. It goes with
// the camera.
import { Color, DataTexture, DoubleSide, FrontSide, ShaderMaterial } from 'three';

const white = new DataTexture(new Uint8Array([255, 255, 255, 255]), 1, 1);
white.needsUpdate = true;

const vertexShader = (colours) => `
attribute vec3 ${colours};
varying vec3 vColour, vNormal, vSky;
varying vec2 vUv;
void main() {
  vColour = ${colours};
  vUv = uv;
  vNormal = normalMatrix * normal;
  vSky = (viewMatrix * vec4(0.0, 1.0, 0.0, 0.0)).xyz;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}`;

const fragmentShader = `
uniform vec3 base;
uniform float rim, cutoff;
uniform sampler2D map;
varying vec3 vColour, vNormal, vSky;
varying vec2 vUv;
void main() {
  vec4 image = texture2D(map, vUv);
  if (image.a < cutoff) discard;
  vec3 n = normalize(vNormal) * (gl_FrontFacing ? 1.0 : -1.0);
  const vec3 keyWay = vec3(-0.4603, 0.6277, 0.6277), fillWay = vec3(0.8284, 0.0920, 0.5523);
  const vec3 rimWay = vec3(0.4472, 0.5367, -0.7155), halfWay = vec3(-0.2551, 0.3479, 0.9021);
  float key = max((dot(n, keyWay) + 0.2) / 1.2, 0.0);
  float fill = max(0.5 + 0.5 * dot(n, fillWay), 0.0);
  float sky = 0.5 + 0.5 * dot(n, vSky);
  vec3 light = vec3(1.0, 0.97, 0.92) * 0.72 * key + vec3(0.92, 0.96, 1.0) * (0.16 * fill + 0.08 + 0.14 * sky);
  float edge = 1.0 - max(n.z, 0.0);
  vec3 colour = base * vColour * image.rgb * light;
  colour += 0.22 * rim * edge * edge * edge * max(dot(n, rimWay) + 0.2, 0.0);
  colour += 0.03 * pow(max(dot(n, halfWay), 0.0), 24.0) * key;
  gl_FragColor = vec4(colour, 1.0);
  #include <colorspace_fragment>
}`;

// figureMaterial lights a part of the figure, in the colours of an attribute: color, the
// file's own, with the file's material, or loss.
export function figureMaterial(colours, material) {
  return new ShaderMaterial({
    vertexShader: vertexShader(colours),
    fragmentShader,
    side: material?.side === DoubleSide ? DoubleSide : FrontSide,
    uniforms: {
      base: { value: material?.color?.clone() ?? new Color(1, 1, 1) },
      map: { value: material?.map ?? white },
      cutoff: { value: material?.alphaTest || 0 },
      rim: { value: 0.35 },
    },
  });
}

export function disposeMaterial(material) {
  const { value: image } = material.uniforms.map;
  if (image !== white) image.dispose();
  material.dispose();
}
