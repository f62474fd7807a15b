export declare function bundle(options: { readonly outdir: string; readonly version: string }): Promise<void>;
