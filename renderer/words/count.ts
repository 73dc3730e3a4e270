export { counted, formatCount } from '../../core/quantity/formatCount.ts';
