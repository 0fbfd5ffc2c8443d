import { dialable } from '../care/plan/emergency-numbers.ts';

/** One tap to call. Only numbers that passed the plan's schema come here. */
export function CallButton({ phone, label, tone = 'main' }: { phone: string; label: string; tone?: 'main' | 'grave' | 'quiet' }) {
  return (
    <a class={`button button-${tone} call`} href={`tel:${dialable(phone)}`}>
      <svg class="handset" viewBox="0 0 32 32" aria-hidden="true">
        <path d="M9 4c-3 1-5 3-5 6 1 9 9 17 18 18 3 0 5-2 6-5l-7-4-3 3c-4-2-6-4-8-8l3-3z" />
      </svg>
      <span class="call-words">
        <span>{label}</span>
        <bdi class="call-number">{phone}</bdi>
      </span>
    </a>
  );
}
