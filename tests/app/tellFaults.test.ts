import { describe, expect, test } from 'vitest';
import { tellFaults } from '../../src/app/tellFaults.ts';

const event = (type: string, facts: object): Event => Object.assign(new Event(type), facts);

function listening() {
  const page = new EventTarget();
  const said: string[] = [];
  const stop = tellFaults(page, (text) => said.push(text));
  return { page, said, stop };
}

describe('faults that nothing caught', () => {
  test('a thrown error and a failed promise are told, and that the plan is kept', () => {
    const { page, said } = listening();
    page.dispatchEvent(event('error', { error: new Error('No such wall.'), message: 'Uncaught' }));
    page.dispatchEvent(event('unhandledrejection', { reason: 'the disk is full' }));
    expect(said).toHaveLength(2);
    expect(said[0]).toMatch(/^Something went wrong: No such wall\. Your plan is kept\./);
    expect(said[1]).toContain('the disk is full');
  });

  test('the same fault is told once, however often it comes', () => {
    const { page, said } = listening();
    for (let i = 0; i < 50; i++) page.dispatchEvent(event('error', { error: new Error('again') }));
    expect(said).toHaveLength(1);
  });

  test('neither a file that did not come nor a browser measuring twice is a fault', () => {
    const { page, said } = listening();
    page.dispatchEvent(new Event('error'));
    page.dispatchEvent(event('error', { message: 'ResizeObserver loop limit exceeded' }));
    expect(said).toEqual([]);
  });

  test('stops when told to', () => {
    const { page, said, stop } = listening();
    stop();
    page.dispatchEvent(event('error', { error: new Error('late') }));
    page.dispatchEvent(event('unhandledrejection', { reason: 'late' }));
    expect(said).toEqual([]);
  });
});
