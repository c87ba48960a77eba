/** A remark of somebody's, as its fields are kept. */
export const remark = {
  writer: 'm',
  name: 'Ida',
  role: 'couple',
  at: '2027-05-02T10:00:00.000Z',
  about: '',
} as const;
