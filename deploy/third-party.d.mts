export const noticesFile: string;
export function thirdPartyNotices(builtIn: string[]): string;
export function builtInOf(notices: string): string[];
