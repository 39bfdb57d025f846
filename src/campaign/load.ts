import { createHash } from 'node:crypto';
import { dirname, resolve } from 'node:path';
import { decodeText } from '../lib/decode-text.ts';
import { readSmallFile } from '../lib/read-small-file.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { type ParsedCampaign, parseCampaign } from './parse-campaign.ts';

export interface LoadedCampaign extends ParsedCampaign {
  /** The file as it is, byte order mark included. */
  readonly text: string;
  /** Of the file's bytes, hex. */
  readonly textSha256: string;
  /** Absolute path of the file. */
  readonly file: string;
  /** Absolute; a suite's path is relative to it. */
  readonly folder: string;
}

const maxCampaignBytes = 2 ** 20;

/**
 * Reads and checks a campaign file. Codes of its problems: `file-unreadable`, `file-too-large`, `file-not-text`, `yaml-syntax`,
 * `yaml-limits`, `campaign-invalid`.
 */
export async function loadCampaign(
  path: string,
): Promise<Result<LoadedCampaign, readonly Problem[]>> {
  const bytes = await readSmallFile(path, maxCampaignBytes, 'a campaign');
  if (!bytes.ok) return err([plainProblem(bytes.error.code, bytes.error.message, path)]);
  const text = decodeText(bytes.value);
  if (!text.ok) return err([plainProblem('file-not-text', text.error, path)]);
  const parsed = parseCampaign(text.value, path);
  if (!parsed.ok) return parsed;
  const file = resolve(path);
  const textSha256 = createHash('sha256').update(bytes.value).digest('hex');
  return ok({ ...parsed.value, text: text.value, textSha256, file, folder: dirname(file) });
}
