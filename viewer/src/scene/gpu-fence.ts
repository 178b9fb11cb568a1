/** Whether what was drawn has reached the picture: the graphics processor says so by a fence. */
import type { WebGLRenderer } from 'three';

export class GpuFence {
  private readonly renderer: WebGLRenderer;
  private fence: WebGLSync | null = null;

  constructor(renderer: WebGLRenderer) {
    this.renderer = renderer;
  }

  /** Stands behind all that was drawn until now. */
  raise(): void {
    const gl = this.context();
    if (!gl) return;
    gl.deleteSync(this.fence);
    this.fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    gl.flush();
  }

  get isPassed(): boolean {
    const gl = this.context();
    return !gl || !this.fence || gl.getSyncParameter(this.fence, gl.SYNC_STATUS) === gl.SIGNALED;
  }

  /** The library draws with WebGL 2 alone, its types allow for the first one too. */
  private context(): WebGL2RenderingContext | undefined {
    const gl = this.renderer.getContext();
    return gl instanceof WebGL2RenderingContext ? gl : undefined;
  }
}
