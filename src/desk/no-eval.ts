/** First of all: zod does not try whether it may make code from text, which the page's policy forbids and tells of. */
import { config } from 'zod';

config({ jitless: true });
