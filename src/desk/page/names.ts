/** What a file is, by its name. */

export const isLog = (name: string) => /\.(?:csv|tsv|txt)(?:\.gz)?$|\.parquet$/i.test(name);
export const isPicture = (name: string) => /\.(?:png|jpe?g|webp)$/i.test(name);
