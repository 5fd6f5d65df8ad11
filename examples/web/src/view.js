// The picture: one figure, or two beside each other, under one camera. It is drawn when
// something has changed and not otherwise.
import { MOUSE, PerspectiveCamera, Raycaster, Scene, TOUCH, Vector2, Vector3, WebGLRenderer } from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';

export class View extends EventTarget {
  constructor(stage, canvas) {
    super();
    this.stage = stage;
    this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.renderer.autoClear = false;
    this.scene = new Scene();
    this.camera = new PerspectiveCamera(24, 1, 0.01, 100);
    this.figures = []; // {figure, label}, from left to right
    this.orbit = new OrbitControls(this.camera, stage);
    this.orbit.enablePan = false;
    this.orbit.enableZoom = false; // by the wheel only where that does not stop the page from scrolling
    this.orbit.mouseButtons = { LEFT: MOUSE.ROTATE, MIDDLE: MOUSE.DOLLY, RIGHT: MOUSE.ROTATE };
    this.orbit.touches = { ONE: TOUCH.ROTATE, TWO: TOUCH.DOLLY_ROTATE };
    this.orbit.addEventListener('change', () => this.#looked());
    stage.addEventListener('wheel', (event) => (this.orbit.enableZoom = event.ctrlKey || document.activeElement === stage), { capture: true });
    stage.addEventListener('pointerdown', () => (this.orbit.enableZoom = true), { capture: true });
    stage.addEventListener('contextmenu', (event) => event.preventDefault());
    new ResizeObserver(() => this.#looked()).observe(stage);
    this.caster = new Raycaster();
  }

  #looked() {
    this.dispatchEvent(new Event('look'));
  }

  show(figures) {
    this.scene.clear();
    this.figures = figures;
    for (const { figure } of figures) this.scene.add(figure.object);
    this.#looked();
  }

  // lookAt puts so much around a place into the picture, from a direction.
  lookAt(place, radius, from) {
    this.orbit.target.set(...place);
    const far = radius / Math.sin((this.camera.fov / 2) * (Math.PI / 180));
    this.camera.position.set(...place).addScaledVector(new Vector3(...from).normalize(), far * Math.max(1, 0.9 / this.#aspect()));
    this.camera.near = far / 100;
    this.camera.far = far * 20;
    this.orbit.update();
    this.#looked();
  }

  // turn goes round the figure, in radians; near and far by a factor.
  turn(angle, factor = 1) {
    const offset = this.camera.position.clone().sub(this.orbit.target);
    offset.applyAxisAngle(up, angle).multiplyScalar(factor);
    this.camera.position.copy(this.orbit.target).add(offset);
    this.orbit.update();
    this.#looked();
  }

  // panels are the places of the figures in the stage, in its pixels.
  panels() {
    const { clientWidth: width, clientHeight: height } = this.stage;
    const each = width / Math.max(this.figures.length, 1);
    return this.figures.map((shown, i) => ({ ...shown, left: i * each, width: each, height }));
  }

  #aspect() {
    return this.stage.clientWidth / Math.max(this.figures.length, 1) / Math.max(this.stage.clientHeight, 1);
  }

  draw() {
    const { clientWidth: width, clientHeight: height } = this.stage;
    if (width === 0 || height === 0) return;
    this.#resize(width, height);
    this.renderer.setScissorTest(true);
    this.renderer.clear();
    for (const panel of this.panels()) {
      for (const { figure } of this.figures) figure.object.visible = figure === panel.figure;
      this.renderer.setViewport(panel.left, 0, panel.width, height);
      this.renderer.setScissor(panel.left, 0, panel.width, height);
      this.renderer.render(this.scene, this.camera);
    }
  }

  #resize(width, height) {
    const size = this.renderer.getSize(new Vector2());
    if (size.x !== width || size.y !== height) this.renderer.setSize(width, height, false);
    this.camera.aspect = this.#aspect();
    this.camera.updateProjectionMatrix();
    this.camera.updateMatrixWorld();
  }

  // project is where a place in the world is in a panel, in the stage's pixels; z is
  // its distance from the camera.
  project(place, panel) {
    const v = new Vector3(...place);
    const z = v.distanceTo(this.camera.position);
    v.project(this.camera);
    return { x: panel.left + ((v.x + 1) / 2) * panel.width, y: ((1 - v.y) / 2) * panel.height, z };
  }

  // ray is the line of sight through a point of a panel.
  ray(x, y, panel) {
    this.caster.setFromCamera(new Vector2(((x - panel.left) / panel.width) * 2 - 1, 1 - (y / panel.height) * 2), this.camera);
    return this.caster.ray;
  }

  // hit is what the ray through a point meets of the panel's figure.
  hit(x, y, panel) {
    this.ray(x, y, panel);
    panel.figure.object.visible = true;
    for (const { geometry } of panel.figure.parts) geometry.boundingSphere = null; // where it is now
    return this.caster.intersectObject(panel.figure.object, true)[0] ?? null;
  }
}

const up = new Vector3(0, 1, 0);
