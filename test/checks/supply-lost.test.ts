import { test } from 'vitest';
test.todo('x');
