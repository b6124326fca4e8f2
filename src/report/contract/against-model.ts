/** `against_model`: where the portrait's figures lie among healthy vehicles of the model. */
import { z } from 'zod';
import { count, flag, number, shareOrNull, text, textOrNull, word } from './fields.ts';

const METHODS = ['normal', 'distribution-free', 'seen'] as const;

const Place = z
  .object({
    figure: text('Figure of the portrait, as in tables/portrait.csv'),
    of: textOrNull('What it is of, as there; null where there is one alone'),
    unit: word(['A', 'V', 's', 'min', 'Ah', '1', 'count'], 'Unit of value, low and high'),
    value: number('Of this session; a draw is positive'),
    vehicles: count('Healthy vehicles that have the figure'),
    method: word(
      METHODS,
      'normal: tolerance interval of a normal population (Howe); distribution-free: least and most (Wilks); either holds 95 % of the model with 95 % confidence. seen: least and most of too few vehicles for either',
    ),
    low: number('Lower end of the normal range'),
    high: number('Upper end of the normal range'),
    chance: shareOrNull(
      'Probability that one more healthy vehicle lies as far from their mean, or farther; null where too few were seen',
    ),
    outside: flag('Outside of the normal range: unusual, and no fault; false where too few were seen to say so'),
  })
  .describe('A figure');

const Missing = z
  .object({ figure: text('Figure of the portrait'), of: textOrNull('What it is of') })
  .describe('A figure that each of the healthy vehicles has and this log does not show');

export const AgainstModel = z
  .object({
    model: textOrNull('The model, as the shop calls it; null where none was given'),
    from: word(
      ['limits', 'model'],
      'limits: the sessions that limits.from names; model: the healthy baselines of the archive',
    ),
    vehicles: count('Healthy vehicles, each by its last baseline, without this one'),
    figures: z.array(Place).describe('The most unusual first'),
    missing: z.array(Missing).describe('What every healthy vehicle showed and this log does not'),
  })
  .nullable()
  .describe('Where the figures of the portrait lie among healthy vehicles of the model');
