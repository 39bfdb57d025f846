import { z } from 'zod';

export const timestampSchema: z.ZodType<string> = z.iso.datetime().describe('RFC 3339, UTC');
