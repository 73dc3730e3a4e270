import { describe, expect, it } from 'vitest';
import { selfHeating } from '../../../core/uncertainty/selfHeating.ts';

describe('self-heating by the test current', () => {
  it('is I²·R, exactly (Joule)', () => {
    expect(selfHeating('100', { testCurrentAmperes: '0.001' }, '0.25')?.watts).toBe('0.0001');
    expect(selfHeating('4700.13', { testCurrentAmperes: '0.0001' }, '0.25')?.watts).toBe('0.0000470013');
  });

  it('warns above a tenth of the rating, and not at it', () => {
    const at = selfHeating('1000', { testCurrentAmperes: '0.01' }, '1');
    expect(at).toEqual({ watts: '0.1', share: 0.1, warning: null });
    const above = selfHeating('1000.1', { testCurrentAmperes: '0.01' }, '1');
    expect(above?.warning).toContain('10 % of its 1 W');
    expect(selfHeating('100', { testCurrentAmperes: '0.01' }, '0.05')?.warning).toContain('20 %');
  });

  it('says nothing where the current or the rating is not known', () => {
    expect(selfHeating('1000', { testCurrentAmperes: null }, '1')).toBeNull();
    expect(selfHeating('1000', { testCurrentAmperes: '0.01' }, null)).toBeNull();
    expect(selfHeating('1000', null, '1')).toBeNull();
    expect(selfHeating('1000', { testCurrentAmperes: '0.01' }, '0')).toBeNull();
  });
});
