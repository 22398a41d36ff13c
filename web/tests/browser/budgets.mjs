// After all other files: no budget of taps stands for a task that nobody walked.
import assert from 'node:assert/strict';
import { notWalked } from './hands.mjs';

async function everyTask() {
  assert.deepEqual(notWalked(), []);
}

export const tests = [['no budget of taps is left over', everyTask]];
